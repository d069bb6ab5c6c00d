// SPDX-License-Identifier: Apache-2.0
/// \file run_program.h
/// The built program, run as a person would run it.
#pragma once

#include "support/temp_folder.h"

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

namespace swingloss::test {

/// What a finished program left: exit code (128 + signal when it was killed) and its texts.
struct ProgramEnd {
  int status = -1;
  std::string out, err;
};

/// Runs `words[0]` with the other words as its arguments, without a terminal, in `folder`.
inline ProgramEnd run_words(std::vector<std::string> words, const std::string& folder = ".") {
  const TempFolder temp;
  const std::string out = temp / "out";
  const std::string err = temp / "err";
  std::vector<char*> argv;
  argv.reserve(words.size() + 1);
  for (std::string& word : words) argv.push_back(word.data());
  argv.push_back(nullptr);
  const pid_t child = ::fork();
  if (child < 0) throw std::runtime_error("fork");
  if (child == 0) {
    const int out_file = ::open(out.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    const int err_file = ::open(err.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    const bool ready = ::dup2(out_file, STDOUT_FILENO) >= 0 &&
                       ::dup2(err_file, STDERR_FILENO) >= 0 && ::chdir(folder.c_str()) == 0;
    if (ready) ::execv(argv[0], argv.data());
    ::_exit(127);
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  const int code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  return {code, bytes_of(out), bytes_of(err)};
}

/// Runs the built `swingloss` with these arguments.
inline ProgramEnd run_program(const std::vector<std::string>& arguments,
                              const std::string& folder = ".") {
  std::vector<std::string> words = {SWINGLOSS_PROGRAM};
  words.insert(words.end(), arguments.begin(), arguments.end());
  return run_words(std::move(words), folder);
}

}  // namespace swingloss::test
