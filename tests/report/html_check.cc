// SPDX-License-Identifier: Apache-2.0
#include "report/html_check.h"

#include <algorithm>
#include <cctype>
#include <set>

namespace swingloss::test {
namespace {

bool is_void(const std::string& name) {
  static const std::set<std::string> kVoid = {"meta", "img", "br", "link", "hr", "input"};
  return kVoid.count(name) > 0;
}

/// Reads the page from left to right.
class Reader {
 public:
  explicit Reader(std::string_view html) : rest_(html) {}

  HtmlPage read() {
    while (!rest_.empty()) {
      const std::size_t open = std::min(rest_.find('<'), rest_.size());
      check_text(rest_.substr(0, open));
      rest_.remove_prefix(open);
      if (!rest_.empty()) take_tag();
    }
    for (const std::string& name : open_) page_.faults.push_back("not closed: " + name);
    return page_;
  }

 private:
  void check_text(std::string_view text) {
    for (std::size_t at = text.find('&'); at != std::string_view::npos;
         at = text.find('&', at + 1)) {
      const std::size_t end = text.find(';', at);
      if (end == std::string_view::npos || end - at > 8)
        page_.faults.emplace_back("a bare ampersand");
    }
  }

  void take_tag() {
    if (rest_.substr(0, 2) == "<!") return skip_to('>');
    if (rest_.substr(0, 2) == "</") return take_end_tag();
    rest_.remove_prefix(1);
    HtmlTag tag;
    tag.name = take_name();
    while (take_attribute(tag)) {
    }
    const bool closed = !rest_.empty() && rest_.front() == '/';
    skip_to('>');
    if (!closed && !is_void(tag.name)) open_.push_back(tag.name);
    if (tag.name == "style")
      rest_.remove_prefix(std::min(rest_.find("</style>"), rest_.size()));
    page_.tags.push_back(tag);
  }

  void take_end_tag() {
    rest_.remove_prefix(2);
    const std::string name = take_name();
    if (open_.empty() || open_.back() != name) {
      page_.faults.push_back("closed out of order: " + name);
    } else {
      open_.pop_back();
    }
    skip_to('>');
  }

  bool take_attribute(HtmlTag& tag) {
    while (!rest_.empty() && std::isspace(static_cast<unsigned char>(rest_.front())) != 0)
      rest_.remove_prefix(1);
    const std::string name = take_name();
    if (name.empty()) return false;
    std::string value;
    while (!rest_.empty() && std::isspace(static_cast<unsigned char>(rest_.front())) != 0)
      rest_.remove_prefix(1);
    if (!rest_.empty() && rest_.front() == '=') value = take_value(name);
    if (!tag.attributes.emplace(name, value).second) page_.faults.push_back("twice: " + name);
    return true;
  }

  std::string take_value(const std::string& name) {
    rest_.remove_prefix(1);
    while (!rest_.empty() && rest_.front() == ' ') rest_.remove_prefix(1);
    const char quote = rest_.empty() ? ' ' : rest_.front();
    if (quote != '"' && quote != '\'') {
      page_.faults.push_back("a value without quotes: " + name);
      return {};
    }
    const std::size_t end = rest_.find(quote, 1);
    std::string value(rest_.substr(1, end - 1));
    check_text(value);
    rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
    return value;
  }

  std::string take_name() {
    std::size_t end = 0;
    const auto is_part = [](char c) {
      return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == ':' ||
             c == '_';
    };
    while (end < rest_.size() && is_part(rest_[end])) ++end;
    std::string name(rest_.substr(0, end));
    rest_.remove_prefix(end);
    return name;
  }

  void skip_to(char end) {
    const std::size_t at = rest_.find(end);
    if (at == std::string_view::npos) page_.faults.emplace_back("a tag without its end");
    rest_.remove_prefix(at == std::string_view::npos ? rest_.size() : at + 1);
  }

  std::string_view rest_;
  std::vector<std::string> open_;
  HtmlPage page_;
};

}  // namespace

std::vector<std::string> HtmlPage::values_of(const std::string& attribute) const {
  std::vector<std::string> values;
  for (const HtmlTag& tag : tags) {
    const auto found = tag.attributes.find(attribute);
    if (found != tag.attributes.end()) values.push_back(found->second);
  }
  return values;
}

std::size_t HtmlPage::count_of(const std::string& tag) const {
  return static_cast<std::size_t>(std::count_if(
      tags.begin(), tags.end(), [&](const HtmlTag& one) { return one.name == tag; }));
}

HtmlPage read_html(std::string_view html) { return Reader(html).read(); }

std::size_t times_in(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t at = text.find(part); at != std::string::npos;
       at = text.find(part, at + part.size()))
    ++count;
  return count;
}

}  // namespace swingloss::test
