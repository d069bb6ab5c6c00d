// SPDX-License-Identifier: Apache-2.0
/// \file gate.h
/// Who may talk to the desk: the browser that its address was given to, and no page of anybody
/// else in that browser.
#pragma once

#include "desk/desk_request.h"

#include <optional>
#include <string>

namespace swingloss {

/// The desk listens on this machine alone; other programs and web pages on it can still reach
/// it. So every request must name the desk as its host (no name that merely points here), must
/// not come from another page (Origin), and must carry a secret: first in the address
/// /open/TOKEN, then in a cookie that is set by it.
class Gate {
 public:
  /// \param token  unguessable: at least 128 bits, letters and digits
  Gate(std::string token, int port);

  /// What a request gets that goes no farther: a refusal (403, 405), or the redirection that
  /// turns the first address into a cookie. Nothing: let it through.
  [[nodiscard]] std::optional<DeskReply> stop(const DeskRequest& request) const;

  [[nodiscard]] std::string address() const;  ///< to be opened in a browser, with the token
  [[nodiscard]] std::string cookie_name() const;

 private:
  [[nodiscard]] bool is_host(const std::string& host) const;
  [[nodiscard]] bool is_own_origin(const DeskRequest& request) const;
  [[nodiscard]] bool has_cookie(const std::string& cookies) const;

  std::string token_;
  int port_;
};

/// Headers of every reply: nothing from elsewhere, no framing, no guessing of types, no store.
[[nodiscard]] const std::map<std::string, std::string>& guarding_headers();

/// Whether two texts are the same, in a time that does not tell where they differ.
[[nodiscard]] bool same_secret(const std::string& a, const std::string& b);

}  // namespace swingloss
