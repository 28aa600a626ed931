// One thing that a check has to say.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "geometry/rect.h"
#include "geometry/space.h"

namespace layright {

/// Who acts: nobody (worth knowing), `lay` (it fixes it), a person (who must decide).
enum class Level { note, fix, hold };
/// Of a page, a file or a run.
enum class Verdict { ready, fix, hold };

using Figure = std::variant<double, std::string, bool>;
/// Named figures in the order told; names end in their unit (width_pt, count, …).
using Figures = std::vector<std::pair<std::string, Figure>>;

struct Finding {
  std::string check{};  // id, e.g. "ink.margin"
  Level level = Level::note;
  std::string message{};                   // what, where, by how much in the user's unit, and what would fix it
  std::optional<Rect<SeenSpace>> where{};  // the first or only place
  std::vector<Rect<SeenSpace>> places{};   // further ones, at most as many as are worth marking
  Figures measured{}, wanted{};
  bool accepted = false;    // a person has decided that this hold is none
  bool suppressed = false;  // a profile has switched its check off: counted, and not reported
};

/// The worst of the findings; accepted holds and suppressed findings do not count.
Verdict verdict_of(std::vector<Finding> const& findings);
Verdict worse(Verdict a, Verdict b);
std::string_view word(Level);
std::string_view word(Verdict);

}  // namespace layright
