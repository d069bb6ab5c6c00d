// SPDX-License-Identifier: Apache-2.0
/// \file escape.h
/// Text that others wrote, made harmless for the place it goes to. Names of bars and materials
/// come from a file that anyone may have written; none may act as markup, formula or command.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace swingloss {

/// Valid UTF-8 without control characters: each broken byte becomes U+FFFD, each control
/// character (also tab, line feed, and U+0080..U+009F) a space. Marks that embed, override or
/// isolate writing directions (U+202A..U+202E, U+2066..U+2069) are left out: one of them in a
/// name would turn the rest of a sentence around.
[[nodiscard]] std::string clean_text(std::string_view text);

/// clean_text() with & < > " ' as character references: for element content and for attribute
/// values in quotes.
[[nodiscard]] std::string html_text(std::string_view text);

/// html_text() in <bdi>, so that a name written right to left, or one with direction marks,
/// does not turn the sentence around it.
[[nodiscard]] std::string html_name(std::string_view text);

/// The text as a spreadsheet may open it: one that it would run as a formula gets an apostrophe
/// in front. That is a text that begins with = or @ (or tab, CR), or with + or - and holds one
/// of ( ! | as commands do; "-20 C" stays as it is. Where every byte counts, results.json has
/// the text unchanged.
[[nodiscard]] std::string spreadsheet_text(std::string_view text);

/// clean_text() as a gnuplot string, quotes included. Every byte but ASCII letters and space is
/// an octal escape, so that no quote, backtick, @ or $ reaches gnuplot's parser.
[[nodiscard]] std::string gnuplot_string(std::string_view text);

/// clean_text() cut to `limit` code points (>= 2), the last one an ellipsis when it was cut.
[[nodiscard]] std::string shortened(std::string_view text, std::size_t limit);

/// Count of code points of valid UTF-8.
[[nodiscard]] std::size_t length_in_code_points(std::string_view text);

}  // namespace swingloss
