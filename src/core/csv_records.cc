// SPDX-License-Identifier: Apache-2.0
#include "core/csv_records.h"

#include "core/input_error.h"
#include "core/number_text.h"

#include <algorithm>

namespace swingloss {
namespace {

constexpr std::string_view kSeparators = ",;\t";

/// Walks through the text once; each step consumes what it names.
class Splitter {
 public:
  Splitter(std::string_view text, char separator, const std::string& file)
      : rest_(text), separator_(separator), file_(file) {}

  std::vector<CsvRecord> split() {
    std::vector<CsvRecord> records;
    while (!rest_.empty()) {
      ++row_;
      records.push_back(record());
    }
    return records;
  }

 private:
  CsvRecord record() {
    CsvRecord result;
    result.row = row_;
    result.line = line_;
    start_line_ = line_;
    result.fields.push_back(field());
    while (!rest_.empty() && rest_.front() == separator_) {
      rest_.remove_prefix(1);
      result.fields.push_back(field());
    }
    line_end();
    return result;
  }

  std::string field() {
    const std::size_t start = rest_.find_first_not_of(separator_ == '\t' ? " " : " \t");
    const bool is_quoted = start != std::string_view::npos && rest_[start] == '"';
    if (is_quoted) {
      rest_.remove_prefix(start + 1);
      return quoted();
    }
    const std::size_t length = std::min(rest_.find_first_of(stops()), rest_.size());
    std::string result(trimmed(rest_.substr(0, length)));
    rest_.remove_prefix(length);
    return result;
  }

  std::string quoted() {
    std::string result;
    for (;;) {
      const std::size_t length = rest_.find('"');
      if (length == std::string_view::npos) throw unclosed();
      count_lines(rest_.substr(0, length));
      result += rest_.substr(0, length);
      rest_.remove_prefix(length + 1);
      if (rest_.empty() || rest_.front() != '"') break;
      result += '"';
      rest_.remove_prefix(1);
    }
    const std::size_t length = std::min(rest_.find_first_of(stops()), rest_.size());
    const std::string_view after = trimmed(rest_.substr(0, length));
    if (!after.empty()) throw text_after_quote(std::string(after));
    rest_.remove_prefix(length);
    return result;
  }

  void line_end() {
    if (rest_.empty()) return;
    rest_.remove_prefix(rest_.substr(0, 2) == "\r\n" ? 2 : 1);
    ++line_;
  }

  void count_lines(std::string_view text) {
    for (std::size_t i = 0; i < text.size(); ++i) {
      const bool second_of_pair = text[i] == '\n' && i > 0 && text[i - 1] == '\r';
      if ((text[i] == '\n' && !second_of_pair) || text[i] == '\r') ++line_;
    }
  }

  [[nodiscard]] std::string stops() const { return std::string("\r\n") + separator_; }

  [[nodiscard]] std::string place() const {
    std::string text = "row " + std::to_string(row_);
    if (start_line_ != row_) text += " (line " + std::to_string(start_line_) + ")";
    return text;
  }

  [[nodiscard]] InputError unclosed() const {
    return InputError({file_,
                       place(),
                       "an opening quote without a closing one",
                       "a quote at both ends of the field",
                       "Close the field with \", and write a quote inside it twice."});
  }

  [[nodiscard]] InputError text_after_quote(const std::string& after) const {
    return InputError({file_,
                       place(),
                       "\"" + after + "\" after the closing quote of a field",
                       "a separator or the end of the row there",
                       "Write a quote inside a quoted field twice."});
  }

  std::string_view rest_;
  char separator_;
  const std::string& file_;
  int row_ = 0;
  int line_ = 1;
  int start_line_ = 1;
};

/// The first line that holds anything, without quoted parts.
std::string unquoted_header(std::string_view text) {
  std::string header;
  bool in_quotes = false;
  for (const char c : text) {
    if (c == '"') in_quotes = !in_quotes;
    const bool ends = !in_quotes && (c == '\n' || c == '\r');
    if (ends && !trimmed(header).empty()) break;
    if (!in_quotes) header += c;
  }
  return header;
}

/// Whether every row that is not empty has as many fields as the first, and more than one.
bool is_rectangular(std::string_view text, char separator, const std::string& file) {
  std::size_t width = 0;
  for (const CsvRecord& record : split_csv(text, separator, file)) {
    if (record.is_empty()) continue;
    if (width == 0) width = record.fields.size();
    if (record.fields.size() != width) return false;
  }
  return width > 1;
}

/// Length of the UTF-8 sequence at `i`, 0 when there is none [RFC3629].
std::size_t utf8_length(std::string_view bytes, std::size_t i) {
  const auto byte = [&](std::size_t k) {
    return k < bytes.size() ? static_cast<unsigned char>(bytes[k]) : 0U;
  };
  const unsigned first = byte(i);
  if (first < 0x80) return first == 0 ? 0 : 1;
  const std::size_t length = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4) return 0;
  for (std::size_t k = 1; k < length; ++k) {
    if ((byte(i + k) & 0xC0U) != 0x80U) return 0;
  }
  const unsigned second = byte(i + 1);
  const bool overlong = (first == 0xE0 && second < 0xA0) || (first == 0xF0 && second < 0x90);
  const bool no_character =
      (first == 0xED && second > 0x9F) || (first == 0xF4 && second > 0x8F);
  return overlong || no_character ? 0 : length;
}

}  // namespace

bool CsvRecord::is_empty() const {
  return std::all_of(fields.begin(), fields.end(), [](const std::string& field) {
    return trimmed(field).empty();
  });
}

std::vector<CsvRecord> split_csv(std::string_view text,
                                 char separator,
                                 const std::string& file) {
  return Splitter(text, separator, file).split();
}

char detect_csv_separator(std::string_view text, const std::string& file) {
  const std::string header = unquoted_header(text);
  std::string candidates;
  for (const char separator : kSeparators) {
    if (trimmed(header).find(separator) != std::string_view::npos) candidates += separator;
  }
  if (candidates.empty()) return ',';
  if (candidates.size() == 1) return candidates.front();

  std::string fitting;
  for (const char separator : candidates) {
    if (is_rectangular(text, separator, file)) fitting += separator;
  }
  if (fitting.size() == 1) return fitting.front();
  throw InputError(
      {file,
       "row 1",
       "more than one kind of separator in the header",
       "one of comma, semicolon or tab throughout",
       "Take the other marks out of the column names, or put the names in quotes."});
}

void check_utf8(std::string_view bytes, const std::string& file) {
  const std::string wanted = "text in UTF-8";
  const std::string next = "Save the table as \"CSV UTF-8\" and try again.";
  const std::string_view start = bytes.substr(0, 2);
  if (start == "\xFF\xFE" || start == "\xFE\xFF") {
    throw InputError({file, "", "text in UTF-16", wanted, next});
  }
  int line = 1;
  for (std::size_t i = 0; i < bytes.size();) {
    const std::size_t length = utf8_length(bytes, i);
    if (length == 0) {
      throw InputError(
          {file,
           "line " + std::to_string(line),
           "a byte that is not UTF-8 (perhaps an older encoding, or no text at all)",
           wanted,
           next});
    }
    if (bytes[i] == '\n') ++line;
    i += length;
  }
}

}  // namespace swingloss
