#include "check/finding.h"

#include <algorithm>

namespace layright {

Verdict worse(Verdict a, Verdict b) { return std::max(a, b); }

Verdict verdict_of(std::vector<Finding> const& findings) {
  Verdict verdict = Verdict::ready;
  for (Finding const& f : findings) {
    if (f.suppressed) continue;
    if (f.level == Level::fix) verdict = worse(verdict, Verdict::fix);
    if (f.level == Level::hold && !f.accepted) verdict = worse(verdict, Verdict::hold);
  }
  return verdict;
}

std::string_view word(Level level) {
  switch (level) {
    case Level::note: return "note";
    case Level::fix: return "fix";
    case Level::hold: break;
  }
  return "hold";
}

std::string_view word(Verdict verdict) {
  switch (verdict) {
    case Verdict::ready: return "ready";
    case Verdict::fix: return "fix";
    case Verdict::hold: break;
  }
  return "hold";
}

}  // namespace layright
