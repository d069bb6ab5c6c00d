// SPDX-License-Identifier: Apache-2.0
/// \file server.h
/// The desk on a port of this machine.
#pragma once

#include "desk/desk.h"
#include "desk/gate.h"

#include <memory>
#include <string>

namespace swingloss {

struct ServerOptions {
  int port = 0;                                         ///< 0: any free one
  std::string token;                                    ///< unguessable (desk/gate.h)
  std::size_t most_body_bytes = std::size_t{1} << 20U;  ///< of everything but an upload
  std::size_t most_upload_bytes = std::size_t{8} << 30U;
};

/// Serves a desk on 127.0.0.1, and on no other address.
class DeskServer {
 public:
  /// \throws InputError  the port is taken
  DeskServer(Desk& desk, const ServerOptions& options);
  DeskServer(const DeskServer&) = delete;
  DeskServer& operator=(const DeskServer&) = delete;
  ~DeskServer();

  [[nodiscard]] int port() const;
  /// To be opened in a browser; holds the token.
  [[nodiscard]] std::string address() const;
  /// Answers until stop(); returns then.
  void listen();
  /// From any thread.
  void stop();

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace swingloss
