// SPDX-License-Identifier: Apache-2.0
/// \file desk_request.h
/// What a browser asks the desk and what it gets, without the library that carries both.
#pragma once

#include <map>
#include <string>

namespace swingloss {

struct DeskRequest {
  std::string method;                        ///< "GET", "POST", "PUT"
  std::string path;                          ///< decoded, begins with /
  std::map<std::string, std::string> query;  ///< decoded
  std::string host, origin, cookie;          ///< headers as sent; empty: not sent
  std::string body;
};

struct DeskReply {
  int status = 200;
  std::string type = "text/plain; charset=utf-8";
  std::string body;
  std::map<std::string, std::string> headers;  ///< beyond those that every reply has
};

}  // namespace swingloss
