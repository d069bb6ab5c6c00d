// SPDX-License-Identifier: Apache-2.0
// The desk on a real port, asked through a client.
#include "desk/server.h"

#include "core/input_error.h"
#include "desk_series.h"
#include "support/test.h"

#include <thread>

#include <httplib.h>

namespace swingloss {
namespace {

constexpr const char* kToken = "abcdefghijklmnopqrstuvwxyz";

/// A desk that listens as long as the test runs.
class Listening {
 public:
  Listening() : desk_(series_.options()), server_(desk_, options()) {
    thread_ = std::thread([this] { server_.listen(); });
    while (!client().Get("/")) std::this_thread::yield();
  }
  Listening(const Listening&) = delete;
  Listening& operator=(const Listening&) = delete;
  ~Listening() {
    server_.stop();
    thread_.join();
  }

  [[nodiscard]] httplib::Client client() const {
    return httplib::Client("127.0.0.1", server_.port());
  }
  [[nodiscard]] httplib::Headers headers() const {
    const std::string port = std::to_string(server_.port());
    return {{"Cookie", "swingloss-desk-" + port + "=" + kToken},
            {"Origin", "http:" + std::string("//127.0.0.1:") + port}};
  }
  [[nodiscard]] int port() const { return server_.port(); }
  [[nodiscard]] Desk& desk() { return desk_; }
  [[nodiscard]] const test::TempFolder& folder() const { return series_.folder(); }

 private:
  static ServerOptions options() {
    ServerOptions options;
    options.token = kToken;
    options.most_upload_bytes = 1000;
    options.most_body_bytes = 500;
    return options;
  }

  test::DeskSeries series_;
  Desk desk_;
  DeskServer server_;
  std::thread thread_;
};

}  // namespace

TEST_CASE("the server refuses strangers and guards every reply", "[desk]") {
  Listening at;
  httplib::Client client = at.client();
  const auto stranger = client.Get("/api/series");
  CHECK(stranger->status == 403);
  CHECK(stranger->get_header_value("X-Content-Type-Options") == "nosniff");
  const auto opened = client.Get("/open/" + std::string(kToken));
  CHECK(opened->status == 303);
  const auto page = client.Get("/", at.headers());
  CHECK(page->status == 200);
  CHECK_THAT(page->get_header_value("Content-Security-Policy"),
             Catch::Contains("script-src 'self'"));
  httplib::Headers foreign = at.headers();
  foreign.erase("Origin");
  CHECK(client.Post("/api/run", foreign, "{}", "application/json")->status == 403);
  foreign.emplace("Origin", "http:" + std::string("//evil.example"));
  CHECK(client.Post("/api/run", foreign, "{}", "application/json")->status == 403);
  foreign = at.headers();
  foreign.emplace("Host", "evil.example:" + std::to_string(at.port()));
  CHECK(client.Get("/", foreign)->status == 403);
  CHECK(client.Get("/results/%2e%2e/specimens.csv", at.headers())->status == 404);
  CHECK(client.Get("/../../etc/passwd", at.headers())->status == 404);
  CHECK(client.Delete("/", at.headers())->status == 405);
}

TEST_CASE("the server takes files whole and no more than it is told to", "[desk]") {
  Listening at;
  httplib::Client client = at.client();
  const std::string path = "/api/upload?shelf=clips&name=..%2Fa.mp4";
  const auto taken = client.Put(path.c_str(), at.headers(), std::string(900, 'x'), "video/mp4");
  CHECK(taken->status == 201);
  CHECK(taken->body == "{\"name\": \"a.mp4\"}");
  CHECK(test::bytes_of(at.folder() / "clips/a.mp4").size() == 900);
  CHECK(client.Put(path.c_str(), at.headers(), std::string(1100, 'x'), "video/mp4")->status ==
        413);
  const auto other = client.Put(
      "/api/upload?shelf=results&name=a.json", at.headers(), std::string("{}"), "text/plain");
  CHECK(other->status == 400);
  httplib::Client next = at.client();
  CHECK(
      next.Post("/api/run", at.headers(), std::string(600, ' '), "application/json")->status ==
      413);
  CHECK_FALSE(std::filesystem::exists(at.folder() / "clips/a-2.mp4"));
}

TEST_CASE("a port that is taken is refused", "[desk]") {
  Listening at;
  ServerOptions options;
  options.token = kToken;
  options.port = at.port();
  CHECK_THROWS_AS(DeskServer(at.desk(), options), InputError);
}

TEST_CASE("a film is served in parts, so that a browser can wind it", "[desk]") {
  Listening at;
  at.desk().workshop().wait_until_idle();
  std::filesystem::create_directories(at.folder() / "results/overlays");
  at.folder().write("results/overlays/T1.mp4", "0123456789");
  httplib::Client client = at.client();
  httplib::Headers part = at.headers();
  part.emplace("Range", "bytes=3-5");
  const auto middle = client.Get("/results/overlays/T1.mp4", part);
  CHECK(middle->status == 206);
  CHECK(middle->body == "345");
  CHECK(middle->get_header_value("Content-Range") == "bytes 3-5/10");
  const auto whole = client.Get("/results/overlays/T1.mp4", at.headers());
  CHECK(whole->status == 200);
  CHECK(whole->body == "0123456789");
  CHECK_THAT(whole->get_header_value("Content-Security-Policy"),
             Catch::Contains("media-src 'self'"));
}

}  // namespace swingloss
