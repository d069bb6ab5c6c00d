// SPDX-License-Identifier: Apache-2.0
#include "core/whole_file.h"

#include <array>
#include <atomic>
#include <cctype>
#include <cerrno>
#include <charconv>
#include <csignal>
#include <filesystem>
#include <regex>
#include <system_error>
#include <utility>
#include <vector>

#include <fcntl.h>
#include <unistd.h>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

/// Sweeps that one write bears before it gives up.
constexpr int kAttempts = 8;

std::string named_machine() {
  std::array<char, 65> name{};
  if (::gethostname(name.data(), name.size() - 1) != 0) return "here";
  std::string text;
  for (const char* letter = name.data(); *letter != '\0'; ++letter)
    text += std::isalnum(static_cast<unsigned char>(*letter)) != 0 ? *letter : '_';
  return text.empty() ? "here" : text;
}

const std::string& machine_name() {
  static const std::string machine = named_machine();
  return machine;
}

bool runs_here(const std::string& machine, const std::string& process) {
  int number = 0;
  const char* const end = process.data() + process.size();
  const auto read = std::from_chars(process.data(), end, number);
  if (machine != machine_name() || read.ec != std::errc() || read.ptr != end) return false;
  return ::kill(number, 0) == 0 || errno == EPERM;
}

/// Named as half_file_beside() does, by a process that is no more.
bool is_left_over(const std::string& name) {
  static const std::regex form(".*\\.[a-z0-9-]+\\.part-(\\w+)-([0-9]+)-[0-9]+");
  std::smatch parts;
  return std::regex_match(name, parts, form) && !runs_here(parts[1].str(), parts[2].str());
}

/// \return 0 or what went wrong as errno has it
int write_all(int descriptor, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return errno;
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return 0;
}

/// A file descriptor that is closed, and a half-written file that is removed, on every way out.
/// Each step gives 0 or what went wrong as errno has it.
class HalfFile {
 public:
  explicit HalfFile(std::string whole) : whole_(std::move(whole)) {}
  HalfFile(const HalfFile&) = delete;
  HalfFile& operator=(const HalfFile&) = delete;
  ~HalfFile() {
    if (descriptor_ >= 0) ::close(descriptor_);
    if (!half_.empty()) ::unlink(half_.c_str());
  }

  int open() {
    for (int attempt = 0; attempt < kAttempts; ++attempt) {
      const std::string half = half_file_beside(whole_);
      descriptor_ = ::open(half.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
      if (descriptor_ >= 0) half_ = half;
      if (descriptor_ >= 0 || errno != EEXIST) break;
    }
    return descriptor_ >= 0 ? 0 : errno;
  }

  [[nodiscard]] int write(std::string_view bytes) const {
    return write_all(descriptor_, bytes);
  }

  int become_whole(Flushed flushed) {
    if (flushed == Flushed::Yes && ::fsync(descriptor_) != 0) return errno;
    if (::close(std::exchange(descriptor_, -1)) != 0) return errno;
    if (::rename(half_.c_str(), whole_.c_str()) != 0) return errno;
    half_.clear();
    return 0;
  }

 private:
  std::string whole_, half_;
  int descriptor_ = -1;
};

int put_once(const std::string& path, std::string_view bytes, Flushed flushed) {
  HalfFile file(path);
  int fault = file.open();
  if (fault == 0) fault = file.write(bytes);
  if (fault == 0) fault = file.become_whole(flushed);
  return fault;
}

/// \return 0 or what went wrong as errno has it
int put_straight(const std::string& path, std::string_view bytes) {
  const int descriptor = ::open(path.c_str(), O_WRONLY | O_CLOEXEC);
  if (descriptor < 0) return errno;
  const int fault = write_all(descriptor, bytes);
  return ::close(descriptor) != 0 && fault == 0 ? errno : fault;
}

/// The new name must reach the disk too; where a file system cannot, the file is there anyway.
void flush_folder(const std::string& folder) {
  const int descriptor = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (descriptor < 0) return;
  ::fsync(descriptor);
  ::close(descriptor);
}

}  // namespace

/// Not met again by any program that shares the folder: a leftover of an earlier process with
/// this number is passed over when it is opened.
std::string half_file_beside(const std::string& path) {
  static std::atomic<unsigned> count{0};
  return path + ".part-" + machine_name() + "-" + std::to_string(::getpid()) + "-" +
         std::to_string(++count);
}

bool is_device_or_pipe(const std::string& path) {
  std::error_code error;
  return fs::is_other(path, error);
}

std::string put_whole_file(const std::string& path, std::string_view bytes, Flushed flushed) {
  if (is_device_or_pipe(path)) {
    const int straight = put_straight(path, bytes);
    return straight == 0 ? "" : std::generic_category().message(straight);
  }
  const fs::path parent = fs::path(path).parent_path();
  const std::string folder = parent.empty() ? "." : parent.string();
  std::error_code error;
  fs::create_directories(folder, error);
  if (error) return error.message();
  int fault = ENOENT;  // also: somebody swept the half file away
  for (int attempt = 0; attempt < kAttempts && fault == ENOENT; ++attempt)
    fault = put_once(path, bytes, flushed);
  if (fault != 0) return std::generic_category().message(fault);
  if (flushed == Flushed::Yes) flush_folder(folder);
  return "";
}

void remove_half_files(const std::string& folder) {
  std::error_code fault;
  std::vector<fs::path> halves;
  for (auto entry = fs::recursive_directory_iterator(folder, fault);
       !fault && entry != fs::recursive_directory_iterator();
       entry.increment(fault)) {
    if (is_left_over(entry->path().filename().string())) halves.push_back(entry->path());
  }
  for (const fs::path& half : halves) fs::remove(half, fault);
}

}  // namespace swingloss
