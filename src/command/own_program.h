// Runs this same program as a child of its own: for a process with threads, which must not fork itself.
#pragma once
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "base/result.h"

namespace layright {

struct OwnRun {
  int status = 0;      // its exit status; 128 and the signal where one ended it
  std::string output;  // what it printed
};

struct OwnRunLimits {
  double seconds = 0;               // by the clock; 0: as long as it takes
  std::function<bool()> stop = {};  // looked at several times a second, where there is one
};
/// Runs `layright WORDS…` to its end. Its input is empty, and what it says on standard error is not heard. Error (internal) when it cannot be begun,
/// prints more than a program of ours would, or was ended by its limits.
Result<OwnRun> run_own_program(std::vector<std::string> const& words, OwnRunLimits const& limits = {});

/// A program that goes on beside this one, and is told to end with it.
class OwnChild {
 public:
  explicit OwnChild(int process) : process_(process) {}
  OwnChild(OwnChild&& other) noexcept : process_(std::exchange(other.process_, 0)) {}
  OwnChild& operator=(OwnChild&& other) noexcept {
    std::swap(process_, other.process_);
    return *this;
  }
  ~OwnChild();

 private:
  int process_ = 0;
};
/// Runs `layright WORDS…` with what this program prints into. Error (internal) when it cannot be begun.
Result<OwnChild> begin_own_program(std::vector<std::string> const& words);

}  // namespace layright
