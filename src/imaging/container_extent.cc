// SPDX-License-Identifier: Apache-2.0
#include "imaging/container_extent.h"

#include "core/input_error.h"
#include "imaging/byte_reader.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <optional>

namespace swingloss {
namespace {

/// A file read in small pieces at given places; short pieces come back short.
class Bytes {
 public:
  explicit Bytes(const std::string& path) : file_(path, std::ios::binary | std::ios::ate) {
    if (!file_) {
      throw InputError({path,
                        "",
                        "a file that cannot be opened",
                        "a file that may be read",
                        "Check its permissions."});
    }
    size_ = static_cast<std::int64_t>(file_.tellg());
  }
  [[nodiscard]] std::int64_t size() const { return size_; }

  [[nodiscard]] std::string at(std::int64_t place, std::size_t count) {
    if (place < 0 || place >= size_) return {};
    std::string piece(count, '\0');
    file_.clear();
    file_.seekg(place);
    file_.read(piece.data(), static_cast<std::streamsize>(count));
    piece.resize(static_cast<std::size_t>(file_.gcount()));
    return piece;
  }

 private:
  std::ifstream file_;
  std::int64_t size_ = 0;
};

std::int64_t clamped(std::uint64_t size) {
  constexpr std::uint64_t kHuge = std::uint64_t{1} << 62U;
  return static_cast<std::int64_t>(std::min(size, kHuge));
}

/// One box of an ISO base media file: its name and where it ends.
struct Box {
  std::string name;
  std::int64_t end = 0;
};

std::optional<Box> box_at(Bytes& file, std::int64_t place) {
  const std::string head = file.at(place, 16);
  if (head.size() < 8) return std::nullopt;
  std::uint64_t size = big_32(head, 0);
  if (size == 1 && head.size() == 16) size = big_64(head, 8);
  if (size == 0) return Box{head.substr(4, 4), file.size()};
  if (size < 8) return std::nullopt;
  return Box{head.substr(4, 4), place + clamped(size)};
}

void walk_mp4(Bytes& file, ContainerExtent& extent) {
  std::int64_t place = 0;
  while (place < file.size()) {
    const std::optional<Box> box = box_at(file, place);
    if (!box) break;
    if (box->name == "moov" && box->end <= file.size()) extent.has_index = true;
    place = box->end;
  }
  extent.missing_bytes = std::max<std::int64_t>(0, place - file.size());
}

/// A variable-length number of EBML: value and length; nothing for the reserved "unknown".
struct VariableInteger {
  std::uint64_t value = 0;
  std::size_t length = 0;
  bool unknown = false;
};

std::optional<VariableInteger> variable_integer(const std::string& bytes, std::size_t from) {
  if (from >= bytes.size()) return std::nullopt;
  const auto first = static_cast<unsigned char>(bytes[from]);
  std::size_t length = 1;
  while (length <= 8 && (first & (0x80U >> (length - 1))) == 0) ++length;
  if (length > 8 || from + length > bytes.size()) return std::nullopt;
  const std::uint64_t mask = (std::uint64_t{1} << (7 * length)) - 1;
  const std::uint64_t value = (big_64(bytes, from) >> (64 - 8 * length)) & mask;
  return VariableInteger{value, length, value == mask};
}

void walk_matroska(Bytes& file, ContainerExtent& extent) {
  const std::string head = file.at(0, 12);
  const auto header = variable_integer(head, 4);
  if (!header) return;
  const auto place = static_cast<std::int64_t>(4 + header->length + header->value);
  const std::string segment = file.at(place, 12);
  if (segment.substr(0, 4) != "\x18\x53\x80\x67") return;
  const auto size = variable_integer(segment, 4);
  if (!size || size->unknown) return;
  const std::int64_t end =
      place + 4 + static_cast<std::int64_t>(size->length) + clamped(size->value);
  extent.missing_bytes = std::max<std::int64_t>(0, end - file.size());
}

void walk_avi(Bytes& file, ContainerExtent& extent) {
  std::int64_t place = 0;
  while (place < file.size()) {
    const std::string head = file.at(place, 8);
    if (head.size() < 8 || head.substr(0, 4) != "RIFF") break;
    const std::int64_t size = little_32(head, 4);
    place += 8 + size + size % 2;
  }
  // A writer that could not go back leaves 0: then only the first header was counted.
  extent.missing_bytes = std::max<std::int64_t>(0, place - file.size());
}

bool is_still_brand(const std::string& brand) {
  static const std::array<const char*, 9> kStill = {
      "heic", "heix", "heim", "heis", "mif1", "msf1", "avif", "avis", "crx "};
  return std::any_of(kStill.begin(), kStill.end(), [&](const char* b) { return brand == b; });
}

ContainerKind kind_of(const std::string& head) {
  if (head.size() < 12) return ContainerKind::Other;
  const std::string name = head.substr(4, 4);
  if (name == "ftyp") {
    return is_still_brand(head.substr(8, 4)) ? ContainerKind::Picture : ContainerKind::Mp4;
  }
  if (name == "moov" || name == "mdat" || name == "wide") return ContainerKind::Mp4;
  if (head.substr(0, 4) == "\x1A\x45\xDF\xA3") return ContainerKind::Matroska;
  if (head.substr(0, 4) == "RIFF" && head.substr(8, 4) == "AVI ") return ContainerKind::Avi;
  return ContainerKind::Other;
}

}  // namespace

ContainerExtent container_extent(const std::string& path) {
  Bytes file(path);
  ContainerExtent extent;
  extent.size_bytes = file.size();
  extent.kind = kind_of(file.at(0, 12));
  switch (extent.kind) {
    case ContainerKind::Mp4:
      walk_mp4(file, extent);
      break;
    case ContainerKind::Matroska:
      walk_matroska(file, extent);
      break;
    case ContainerKind::Avi:
      walk_avi(file, extent);
      break;
    case ContainerKind::Other:
    case ContainerKind::Picture:
      break;
  }
  return extent;
}

}  // namespace swingloss
