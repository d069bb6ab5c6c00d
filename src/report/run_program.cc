// SPDX-License-Identifier: Apache-2.0
#include "report/run_program.h"

#include <algorithm>
#include <array>
#include <cerrno>
#include <iterator>
#include <stdexcept>
#include <system_error>

#include <fcntl.h>
#include <spawn.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

extern "C" char** environ;

namespace swingloss {
namespace {

/// A descriptor that closes itself.
class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {
    if (number_ < 0)
      throw std::runtime_error(std::string("no descriptor: ") +
                               std::generic_category().message(errno));
  }
  ~Descriptor() { close_now(); }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  [[nodiscard]] int number() const { return number_; }
  void close_now() {
    if (number_ >= 0) ::close(number_);
    number_ = -1;
  }

 private:
  int number_;
};

/// An unnamed file in memory. Not a pipe: a program may write before it has read all of its
/// input, and two full pipes would wait for one another for ever.
Descriptor memory_file(const char* name) {
  return Descriptor(::memfd_create(name, MFD_CLOEXEC));
}

void write_all(const Descriptor& file, const std::string& bytes) {
  std::size_t done = 0;
  while (done < bytes.size()) {
    const ssize_t count = ::write(file.number(), bytes.data() + done, bytes.size() - done);
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) throw std::runtime_error("cannot hand its input to a program");
    done += static_cast<std::size_t>(count);
  }
  ::lseek(file.number(), 0, SEEK_SET);
}

std::string read_all(const Descriptor& file) {
  ::lseek(file.number(), 0, SEEK_SET);
  std::string bytes;
  std::array<char, 65536> buffer{};
  for (;;) {
    const ssize_t count = ::read(file.number(), buffer.data(), buffer.size());
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) return bytes;
    bytes.append(buffer.data(), static_cast<std::size_t>(count));
  }
}

/// The child's three standard streams.
struct Streams {
  Descriptor in = memory_file("input");
  Descriptor out = memory_file("output");
  Descriptor err = memory_file("complaints");
};

struct Child {
  pid_t id = 0;
  int fault = 0;  ///< errno why it could not be started; 0 when it runs
};

Child spawn(std::vector<std::string> words, const Streams& streams) {
  Child child;
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_adddup2(&actions, streams.in.number(), STDIN_FILENO);
  posix_spawn_file_actions_adddup2(&actions, streams.out.number(), STDOUT_FILENO);
  posix_spawn_file_actions_adddup2(&actions, streams.err.number(), STDERR_FILENO);
  std::vector<char*> arguments;
  std::transform(
      words.begin(), words.end(), std::back_inserter(arguments), [](std::string& word) {
        return word.data();
      });
  arguments.push_back(nullptr);
  child.fault = ::posix_spawnp(
      &child.id, words.front().c_str(), &actions, nullptr, arguments.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  return child;
}

int wait_for(const Child& child) {
  int status = 0;
  while (::waitpid(child.id, &status, 0) < 0) {
    if (errno != EINTR) throw std::runtime_error("lost a child process");
  }
  return status;
}

}  // namespace

ProgramEnd run_program(const std::vector<std::string>& words, const std::string& input) {
  const Streams streams;
  write_all(streams.in, input);
  const Child child = spawn(words, streams);
  ProgramEnd end;
  if (child.fault != 0) {
    end.not_started = std::generic_category().message(child.fault);
    return end;
  }
  const int status = wait_for(child);
  end.good = WIFEXITED(status) && WEXITSTATUS(status) == 0;
  end.output = read_all(streams.out);
  end.complaints = read_all(streams.err);
  return end;
}

}  // namespace swingloss
