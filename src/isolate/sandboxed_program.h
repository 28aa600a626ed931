// Runs a program that loads its resources late (Ghostscript) in a child of its own: no network, no process of its own, no new privileges and
// none of root's, read-only access to the folders where programs and fonts live, one folder of its own for scratch files, limits on memory,
// time and the room that it takes in all.
#pragma once
#include <string>
#include <vector>

#include "base/result.h"

namespace layright {

struct SandboxedProgram {
  std::vector<std::string> words;                    // words[0] is looked up in /usr/bin
  int input = -1, output = -1;                       // its standard input and output; not closed
  int messages = -1;                                 // what it says on standard error; -1: only its first words are kept, where it failed
  double seconds = 60;                               // of processor time; by the clock four times as long
  std::size_t memory_bytes = std::size_t{2} << 30;   // address space
  std::size_t resident_bytes = 0;                    // memory in use, together with this process's own; 0: no limit but the other
  std::size_t output_bytes = std::size_t{4} << 30;   // the largest file it may write
  std::size_t scratch_bytes = std::size_t{1} << 30;  // all its scratch files together
  int threads = 0;                                   // that it may begin beside its own
};

/// Waits for its end. Errors: hold when it took too long or too much; internal when it is not installed, could not be shut in as it must be,
/// or failed: the message says what it said.
Outcome run_shut_in(SandboxedProgram const& program);

}  // namespace layright
