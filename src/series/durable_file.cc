// SPDX-License-Identifier: Apache-2.0
#include "series/durable_file.h"

#include "core/input_error.h"

#include <cerrno>
#include <filesystem>
#include <string>
#include <system_error>
#include <utility>

#include <fcntl.h>
#include <unistd.h>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void refuse(const std::string& path, const std::string& reason) {
  throw InputError({path,
                    "",
                    "a place that cannot be written (" + reason + ")",
                    "a folder with room and permission to write",
                    "Free some space, or choose another folder."});
}

/// A file descriptor that is closed, and a half-written file that is removed, on every way out.
class HalfFile {
 public:
  HalfFile(std::string half, std::string whole)
      : half_(std::move(half)), whole_(std::move(whole)) {
    descriptor_ = ::open(half_.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0666);
    if (descriptor_ < 0) refuse(whole_, std::generic_category().message(errno));
  }
  HalfFile(const HalfFile&) = delete;
  HalfFile& operator=(const HalfFile&) = delete;
  ~HalfFile() {
    if (descriptor_ >= 0) ::close(descriptor_);
    if (!renamed_) ::unlink(half_.c_str());
  }

  void write(std::string_view text) {
    while (!text.empty()) {
      const ssize_t written = ::write(descriptor_, text.data(), text.size());
      if (written < 0 && errno == EINTR) continue;
      if (written < 0) refuse(whole_, std::generic_category().message(errno));
      text.remove_prefix(static_cast<std::size_t>(written));
    }
  }

  void become_whole() {
    if (::fsync(descriptor_) != 0 || ::close(std::exchange(descriptor_, -1)) != 0 ||
        ::rename(half_.c_str(), whole_.c_str()) != 0) {
      refuse(whole_, std::generic_category().message(errno));
    }
    renamed_ = true;
  }

 private:
  std::string half_, whole_;
  int descriptor_ = -1;
  bool renamed_ = false;
};

/// The new name must reach the disk too; where a file system cannot, the file is there anyway.
void flush_folder(const std::string& folder) {
  const int descriptor = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (descriptor < 0) return;
  ::fsync(descriptor);
  ::close(descriptor);
}

}  // namespace

void write_file_durably(const std::string& path, std::string_view text) {
  const fs::path parent = fs::path(path).parent_path();
  const std::string folder = parent.empty() ? "." : parent.string();
  std::error_code error;
  fs::create_directories(folder, error);
  if (error) refuse(path, error.message());
  HalfFile file(path + ".part-" + std::to_string(::getpid()), path);
  file.write(text);
  file.become_whole();
  flush_folder(folder);
}

}  // namespace swingloss
