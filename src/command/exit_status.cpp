#include "command/exit_status.h"

#include <algorithm>
#include <array>

namespace layright {
namespace {
constexpr std::array kWorstFirst = {ExitStatus::usage,         ExitStatus::internal,  ExitStatus::io,       ExitStatus::cannot_create,
                                    ExitStatus::no_permission, ExitStatus::try_again, ExitStatus::no_input, ExitStatus::data,
                                    ExitStatus::not_ended,     ExitStatus::hold,      ExitStatus::fix,      ExitStatus::ready};
}

ExitStatus status_of(Verdict verdict) {
  return verdict == Verdict::hold ? ExitStatus::hold : verdict == Verdict::fix ? ExitStatus::fix : ExitStatus::ready;
}

ExitStatus status_of(ErrorKind kind) {
  switch (kind) {
    case ErrorKind::usage: return ExitStatus::usage;
    case ErrorKind::data: return ExitStatus::data;
    case ErrorKind::no_input: return ExitStatus::no_input;
    case ErrorKind::internal: return ExitStatus::internal;
    case ErrorKind::cannot_create: return ExitStatus::cannot_create;
    case ErrorKind::io: return ExitStatus::io;
    case ErrorKind::try_again: return ExitStatus::try_again;
    case ErrorKind::hold: return ExitStatus::hold;
  }
  return ExitStatus::internal;
}

ExitStatus worse(ExitStatus a, ExitStatus b) {
  return *std::find_if(kWorstFirst.begin(), kWorstFirst.end(), [&](ExitStatus s) { return s == a || s == b; });
}

}  // namespace layright
