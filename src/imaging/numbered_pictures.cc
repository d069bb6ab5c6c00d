// SPDX-License-Identifier: Apache-2.0
#include "core/input_error.h"
#include "imaging/picture_folder.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <numeric>
#include <optional>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::string lower(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](unsigned char c) {
    return static_cast<char>(std::tolower(c));
  });
  return text;
}

bool is_picture(const fs::path& path) {
  static const std::array<const char*, 5> kEndings = {".png", ".jpg", ".jpeg", ".tif", ".tiff"};
  const std::string ending = lower(path.extension().string());
  const bool hidden = path.filename().string().front() == '.';
  return !hidden && std::any_of(kEndings.begin(), kEndings.end(), [&](const char* known) {
    return ending == known;
  });
}

/// The digits at `from` without leading zeros.
std::string digits_at(const std::string& text, std::size_t from) {
  std::size_t begin = from, end = from;
  while (end < text.size() && is_digit(text[end])) ++end;
  while (begin + 1 < end && text[begin] == '0') ++begin;
  return text.substr(begin, end - begin);
}

std::size_t after_digits(const std::string& text, std::size_t from) {
  while (from < text.size() && is_digit(text[from])) ++from;
  return from;
}

/// Runs of digits as numbers of any length, all else byte by byte.
bool numerically_before(const std::string& a, const std::string& b) {
  std::size_t i = 0, j = 0;
  while (i < a.size() && j < b.size()) {
    if (is_digit(a[i]) && is_digit(b[j])) {
      const std::string x = digits_at(a, i), y = digits_at(b, j);
      if (x.size() != y.size()) return x.size() < y.size();
      if (x != y) return x < y;
      i = after_digits(a, i);
      j = after_digits(b, j);
    } else {
      if (a[i] != b[j])
        return static_cast<unsigned char>(a[i]) < static_cast<unsigned char>(b[j]);
      ++i;
      ++j;
    }
  }
  return a.size() - i < b.size() - j;
}

/// A name taken apart at its last number: "swing_", 17, "-raw".
struct NumberedName {
  std::string before, after;
  long number = 0;
};

std::optional<NumberedName> take_apart(const std::string& stem) {
  std::size_t end = stem.size();
  while (end > 0 && !is_digit(stem[end - 1])) --end;
  std::size_t begin = end;
  while (begin > 0 && is_digit(stem[begin - 1])) --begin;
  constexpr std::size_t kMostDigits = 15;
  if (begin == end || end - begin > kMostDigits) return std::nullopt;
  return NumberedName{
      stem.substr(0, begin), stem.substr(end), std::stol(stem.substr(begin, end - begin))};
}

/// The numbers, when all names are alike but for them; nothing otherwise.
std::optional<std::vector<long>> common_numbers(const std::vector<fs::path>& paths) {
  std::vector<long> numbers;
  std::optional<NumberedName> first;
  for (const fs::path& path : paths) {
    const std::optional<NumberedName> name = take_apart(path.stem().string());
    if (!name) return std::nullopt;
    if (!first) first = name;
    if (name->before != first->before || name->after != first->after) return std::nullopt;
    numbers.push_back(name->number);
  }
  return numbers;
}

void refuse_double_numbers(const std::string& folder,
                           const std::vector<fs::path>& paths,
                           const std::vector<long>& numbers) {
  for (std::size_t i = 1; i < numbers.size(); ++i) {
    if (numbers[i] != numbers[i - 1]) continue;
    throw InputError({folder,
                      "",
                      "two pictures with the number " + std::to_string(numbers[i]) + ": " +
                          paths[i - 1].filename().string() + " and " +
                          paths[i].filename().string(),
                      "each number once",
                      "Move one of the two out of the folder."});
  }
}

std::vector<fs::path> sorted_pictures(const std::string& folder) {
  std::vector<fs::path> paths;
  for (const fs::directory_entry& entry : fs::directory_iterator(fs::path(folder))) {
    if (entry.is_regular_file() && is_picture(entry.path())) paths.push_back(entry.path());
  }
  std::sort(paths.begin(), paths.end(), [](const fs::path& a, const fs::path& b) {
    const std::string x = a.stem().string(), y = b.stem().string();
    if (numerically_before(x, y)) return true;
    if (numerically_before(y, x)) return false;
    return a.filename() < b.filename();
  });
  return paths;
}

}  // namespace

std::vector<NumberedPicture> numbered_pictures(const std::string& folder) {
  const std::vector<fs::path> paths = sorted_pictures(folder);
  if (paths.empty()) {
    throw InputError(
        {folder,
         "",
         "a folder without pictures",
         "pictures named by number (swing_001.png, swing_002.png, ...; PNG, JPEG or "
         "TIFF)",
         "Give the folder that holds the pictures themselves."});
  }
  const std::optional<std::vector<long>> numbers = common_numbers(paths);
  if (numbers) refuse_double_numbers(folder, paths, *numbers);
  long step = 0;
  for (std::size_t i = 1; numbers && i < numbers->size(); ++i) {
    step = std::gcd(step, (*numbers)[i] - (*numbers)[i - 1]);
  }
  std::vector<NumberedPicture> out;
  for (std::size_t i = 0; i < paths.size(); ++i) {
    const long place =
        step > 0 ? ((*numbers)[i] - numbers->front()) / step : static_cast<long>(i);
    out.push_back({paths[i].string(), place});
  }
  return out;
}

}  // namespace swingloss
