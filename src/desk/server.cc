// SPDX-License-Identifier: Apache-2.0
#include "desk/server.h"

#include "core/input_error.h"
#include "desk/desk_json.h"

#include <exception>

#include <httplib.h>

namespace swingloss {
namespace {

constexpr const char* kUploadPath = "/api/upload";

DeskRequest request_of(const httplib::Request& from) {
  DeskRequest request;
  request.method = from.method;
  request.path = from.path;
  for (const auto& [name, value] : from.params) request.query[name] = value;
  // Two hosts or two origins in one request: nobody's browser sends that.
  const auto header = [&](const char* name) {
    return from.get_header_value_count(name) == 1
               ? from.get_header_value(name)
               : std::string(from.has_header(name) ? "?" : "");
  };
  request.host = header("Host");
  request.origin = header("Origin");
  request.cookie = header("Cookie");
  request.body = from.body;
  return request;
}

void send(const DeskReply& reply, httplib::Response& to) {
  // A film is asked for in parts: the library answers these with 206 where nobody said 200.
  if (reply.status != 200) to.status = reply.status;
  to.set_content(reply.body, reply.type);
  std::map<std::string, std::string> headers = guarding_headers();
  for (const auto& [name, value] : reply.headers) headers[name] = value;
  for (const auto& [name, value] : headers) to.set_header(name, value);
}

DeskReply refusal(int status, const std::string& text) {
  DeskReply reply;
  reply.status = status;
  reply.type = "application/json";
  reply.body = error_json(text);
  return reply;
}

}  // namespace

struct DeskServer::Inside {
  Inside(Desk& served, ServerOptions wanted)
      : desk(served), options(std::move(wanted)), port(bound()), gate(options.token, port) {
    server.set_payload_max_length(options.most_upload_bytes);
    server.set_pre_routing_handler([this](const httplib::Request& from, httplib::Response& to) {
      return first(from, to);
    });
    const auto answer = [this](const httplib::Request& from, httplib::Response& to) {
      send(desk.answer(request_of(from)), to);
    };
    server.Put(kUploadPath,
               [this](const httplib::Request& from,
                      httplib::Response& to,
                      const httplib::ContentReader& reader) { take_file(from, to, reader); });
    server.Get(".*", answer);
    server.Post(".*", answer);
  }

  int bound() {
    // A port that another program holds must not be shared with it.
    server.set_socket_options([](socket_t) {});
    const bool any = options.port == 0;
    const int at = any ? server.bind_to_any_port("127.0.0.1") : options.port;
    if (at > 0 && (any || server.bind_to_port("127.0.0.1", at))) return at;
    throw InputError({"",
                      "option --port",
                      "port " + std::to_string(options.port) + ", which cannot be had",
                      "a free port above 1023",
                      "Take another, or leave --port out for any free one."});
  }

  /// Before anything is read of a body: who asks, and how much is coming.
  httplib::Server::HandlerResponse first(const httplib::Request& from, httplib::Response& to) {
    const auto stopped = gate.stop(request_of(from));
    if (stopped) return close_with(*stopped, to);
    if (from.method == "GET") return httplib::Server::HandlerResponse::Unhandled;
    if (!from.has_header("Content-Length"))
      return close_with(refusal(411, "The length of what is sent must be said."), to);
    const bool upload = from.method == "PUT" && from.path == kUploadPath;
    const auto length = from.get_header_value<std::uint64_t>("Content-Length");
    if (length > (upload ? options.most_upload_bytes : options.most_body_bytes))
      return close_with(refusal(413, "That is more than the desk takes at once."), to);
    return httplib::Server::HandlerResponse::Unhandled;
  }

  static httplib::Server::HandlerResponse close_with(const DeskReply& reply,
                                                     httplib::Response& to) {
    send(reply, to);
    to.set_header("Connection", "close");  // an unread body may follow
    return httplib::Server::HandlerResponse::Handled;
  }

  void take_file(const httplib::Request& from,
                 httplib::Response& to,
                 const httplib::ContentReader& reader) {
    try {
      const auto upload = desk.upload(request_of(from));
      const bool read = reader(
          [&](const char* bytes, std::size_t count) { return upload->write(bytes, count); });
      if (!read) {
        send(refusal(507, "The file could not be taken whole: is the disk full?"), to);
        return;
      }
      DeskReply reply = refusal(201, "");
      reply.body = "{\"name\": \"" + upload->finish() + "\"}";  // a safe name needs no escape
      send(reply, to);
    } catch (const InputError& error) {
      send(refusal(400, error.what()), to);
    } catch (const std::exception& error) {
      send(refusal(500, error.what()), to);
    }
  }

  Desk& desk;
  ServerOptions options;
  httplib::Server server;
  int port;
  Gate gate;
};

DeskServer::DeskServer(Desk& desk, const ServerOptions& options)
    : inside_(std::make_unique<Inside>(desk, options)) {}

DeskServer::~DeskServer() = default;

int DeskServer::port() const { return inside_->port; }

std::string DeskServer::address() const { return inside_->gate.address(); }

void DeskServer::listen() { inside_->server.listen_after_bind(); }

void DeskServer::stop() { inside_->server.stop(); }

}  // namespace swingloss
