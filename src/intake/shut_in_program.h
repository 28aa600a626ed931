// Runs a program that loads its resources late (Ghostscript) in a child of its own: no network, no new privileges, read-only access to
// the folders where programs and fonts live, one folder of its own for scratch files, limits on memory and time.
#pragma once
#include <string>
#include <vector>

#include "geometry/result.h"

namespace layright {

struct ShutInProgram {
  std::vector<std::string> words;   // words[0] is looked up in /usr/bin
  int input = -1, output = -1;      // its standard input and output; not closed
  int messages = -1;                // what it says on standard error; -1: only its first words are told, where it failed
  double seconds = 60;              // by the clock and of processor time
  std::size_t memory_bytes = std::size_t{2} << 30;
  std::size_t output_bytes = std::size_t{4} << 30;  // the largest file it may write
};

/// Waits for its end. Errors: hold when it took too long, internal when it is not installed or failed; the message says what it said.
Outcome run_shut_in(ShutInProgram const& program);

}  // namespace layright
