// SPDX-License-Identifier: Apache-2.0
#include "desk/gate.h"

#include "support/test.h"

namespace swingloss {
namespace {

const std::string kToken = "abcdefghijklmnopqrstuvwxyz";

DeskRequest asked(const std::string& method, const std::string& path) {
  DeskRequest request;
  request.method = method;
  request.path = path;
  request.host = "127.0.0.1:4000";
  request.cookie = "other=1; swingloss-desk-4000=" + kToken;
  return request;
}

std::string own_origin() { return "http:" + std::string("//127.0.0.1:4000"); }

}  // namespace

TEST_CASE("the gate lets through its own browser and nobody else", "[desk]") {
  const Gate gate(kToken, 4000);
  CHECK_FALSE(gate.stop(asked("GET", "/api/series")));
  DeskRequest post = asked("POST", "/api/run");
  CHECK(gate.stop(post)->status == 403);  // a POST without any origin
  post.origin = own_origin();
  CHECK_FALSE(gate.stop(post));
  for (const char* origin : {"null", "http:", "http:evil", "?"}) {
    post.origin = origin;
    CHECK(gate.stop(post)->status == 403);
  }
  DeskRequest get = asked("GET", "/api/series");
  get.origin = own_origin() + "0";
  CHECK(gate.stop(get)->status == 403);
  CHECK(gate.stop(asked("DELETE", "/"))->status == 405);
}

TEST_CASE("a name that merely points here is not the desk's", "[desk]") {
  const Gate gate(kToken, 4000);
  DeskRequest request = asked("GET", "/");
  request.host = "localhost:4000";
  CHECK_FALSE(gate.stop(request));
  for (const char* host : {"",
                           "evil.example:4000",
                           "127.0.0.1",
                           "127.0.0.1:4001",
                           "127.0.0.1:4000.evil.example",
                           "[::1]:4000",
                           "?"}) {
    CAPTURE(host);
    request.host = host;
    CHECK(gate.stop(request)->status == 403);
  }
}

TEST_CASE("without the token nothing is answered, with it a cookie is set", "[desk]") {
  const Gate gate(kToken, 4000);
  DeskRequest request = asked("GET", "/");
  for (const std::string& cookie : {std::string(),
                                    "swingloss-desk-4000=" + kToken.substr(1),
                                    "swingloss-desk-4000=" + kToken + "x",
                                    "swingloss-desk-4001=" + kToken,
                                    "xswingloss-desk-4000=" + kToken,
                                    std::string("swingloss-desk-4000=")}) {
    CAPTURE(cookie);
    request.cookie = cookie;
    CHECK(gate.stop(request)->status == 403);
  }
  request.path = "/open/" + kToken.substr(1);
  CHECK(gate.stop(request)->status == 403);
  request.path = "/open/" + kToken;
  const auto opened = gate.stop(request);
  CHECK(opened->status == 303);
  CHECK(opened->headers.at("Location") == "/");
  const std::string cookie = opened->headers.at("Set-Cookie");
  CHECK_THAT(cookie, Catch::Contains("HttpOnly") && Catch::Contains("SameSite=Strict"));
  CHECK(gate.address() == own_origin() + "/open/" + kToken);
  CHECK_THROWS_AS(Gate("short", 4000), std::logic_error);
}

TEST_CASE("every reply forbids what a page of ours does not need", "[desk]") {
  const std::string policy = guarding_headers().at("Content-Security-Policy");
  CHECK_THAT(policy, Catch::Contains("default-src 'none'") && !Catch::Contains("unsafe"));
  CHECK(guarding_headers().at("X-Content-Type-Options") == "nosniff");
}

}  // namespace swingloss
