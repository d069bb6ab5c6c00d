// SPDX-License-Identifier: Apache-2.0
#include "desk/gate.h"

#include "core/expects.h"

namespace swingloss {
namespace {

constexpr std::size_t kShortestToken = 26;  // 128 bits in letters and digits

DeskReply refusal(int status, const std::string& text) {
  DeskReply reply;
  reply.status = status;
  reply.body = text + "\n";
  return reply;
}

/// "http:" and the two strokes are apart so that no address stands in the source.
std::string origin_of(const std::string& host) { return "http:" + ("//" + host); }

}  // namespace

bool same_secret(const std::string& a, const std::string& b) {
  unsigned differences = a.size() == b.size() ? 0U : 1U;
  for (std::size_t i = 0; i < a.size(); ++i) {
    const char other = b.empty() ? '\0' : b[i % b.size()];
    differences |= unsigned{static_cast<unsigned char>(a[i])} ^
                   unsigned { static_cast<unsigned char>(other) };
  }
  return differences == 0U;
}

Gate::Gate(std::string token, int port) : token_(std::move(token)), port_(port) {
  expects(token_.size() >= kShortestToken, "the desk's token is too short");
}

std::string Gate::address() const {
  return origin_of("127.0.0.1:" + std::to_string(port_)) + "/open/" + token_;
}

std::string Gate::cookie_name() const { return "swingloss-desk-" + std::to_string(port_); }

bool Gate::is_host(const std::string& host) const {
  const std::string port = ":" + std::to_string(port_);
  return host == "127.0.0.1" + port || host == "localhost" + port;
}

bool Gate::is_own_origin(const DeskRequest& request) const {
  if (request.origin.empty()) return request.method == "GET";
  return request.origin == origin_of(request.host);
}

bool Gate::has_cookie(const std::string& cookies) const {
  const std::string name = cookie_name() + "=";
  std::size_t at = 0;
  while (at < cookies.size()) {
    const std::size_t end = std::min(cookies.find(';', at), cookies.size());
    const std::size_t start = std::min(cookies.find_first_not_of(' ', at), end);
    const std::string each = cookies.substr(start, end - start);
    if (each.compare(0, name.size(), name) == 0 &&
        same_secret(each.substr(name.size()), token_))
      return true;
    at = end + 1;
  }
  return false;
}

std::optional<DeskReply> Gate::stop(const DeskRequest& request) const {
  if (!is_host(request.host))
    return refusal(403, "This desk answers only to the address that it printed.");
  if (request.method != "GET" && request.method != "POST" && request.method != "PUT")
    return refusal(405, "The desk knows GET, POST and PUT.");
  if (!is_own_origin(request))
    return refusal(403, "Another page asked for this; the desk answers only its own.");
  const std::string opening = "/open/";
  if (request.method == "GET" && request.path.compare(0, opening.size(), opening) == 0) {
    if (!same_secret(request.path.substr(opening.size()), token_))
      return refusal(403, "This is not the address that the desk printed.");
    DeskReply reply = refusal(303, "");
    reply.headers["Location"] = "/";
    reply.headers["Set-Cookie"] =
        cookie_name() + "=" + token_ + "; Path=/; HttpOnly; SameSite=Strict";
    return reply;
  }
  if (!has_cookie(request.cookie))
    return refusal(403,
                   "Open the whole address that the desk printed in the terminal; it ends in "
                   "a long word that lets this browser in.");
  return {};
}

const std::map<std::string, std::string>& guarding_headers() {
  static const std::map<std::string, std::string> headers = {
      {"Content-Security-Policy",
       "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
       "media-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; "
       "frame-ancestors 'none'"},
      {"X-Content-Type-Options", "nosniff"},
      {"X-Frame-Options", "DENY"},
      {"Referrer-Policy", "no-referrer"},
      {"Cross-Origin-Opener-Policy", "same-origin"},
      {"Cross-Origin-Resource-Policy", "same-origin"},
      {"Cache-Control", "no-store"}};
  return headers;
}

}  // namespace swingloss
