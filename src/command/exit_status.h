// What the program says with its exit status (DESIGN section 4; 64 and above are BSD sysexits).
#pragma once
#include <initializer_list>

#include "base/result.h"
#include "check/finding.h"

namespace layright {

enum class ExitStatus : int {
  ready = 0,
  fix = 1,
  hold = 2,
  not_ended = 3,  // the press took the job and had not ended it when the wait was over
  usage = 64,
  data = 65,
  no_input = 66,
  internal = 70,
  cannot_create = 73,
  io = 74,
  try_again = 75,      // nothing was sent
  no_permission = 77,  // login needed
};

ExitStatus status_of(Verdict verdict);
ExitStatus status_of(ErrorKind kind);
/// Of several files the worst: 70, 74, 73, 77, 75, 66, 65, 3, 2, 1, 0; usage goes before all.
ExitStatus worse(ExitStatus a, ExitStatus b);

}  // namespace layright
