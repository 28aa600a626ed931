// Runs this same program as a child of its own: for a process with threads, which must not fork itself.
#pragma once
#include <string>
#include <vector>

#include "base/result.h"

namespace layright {

struct OwnRun {
  int status = 0;      // its exit status; 128 and the signal where one ended it
  std::string output;  // what it printed
};

/// Runs `layright WORDS…` to its end. Its input is empty, and what it says on standard error is not heard. Error (internal) when it cannot be begun, or
/// prints more than a program of ours would.
Result<OwnRun> run_own_program(std::vector<std::string> const& words);

}  // namespace layright
