#include "marks/other_shapes.h"

#include <algorithm>
#include <cmath>

namespace layright {
namespace {

// Our own, argued: a line that can be read has three letters, a letter of bars alone has three of them at least (as E has, of strokes).
constexpr long kFewestShapes = 3, kFewestBars = 24;
constexpr double kLowestLetter = 1.5;  // points: lower ones are not read
constexpr int kLowestPicture = 8;      // pixels
constexpr std::size_t kPlainest = 4;   // points of what can be no letter unless it is bent: a line, a triangle, a kite

}  // namespace

void OtherShapes::path(Outline const& outline, SeenRect const& shown) {
  if (std::max(shown.width(), shown.height()) < kLowestLetter) return;
  long parts = 0;
  bool bent = false;
  std::size_t points = 0;
  for (auto const verb : outline.verbs()) {
    if (verb == Outline::Verb::move) {
      if (bent || points > kPlainest) ++parts;
      bent = false;
      points = 0;
    }
    bent = bent || verb == Outline::Verb::curve;
    if (verb != Outline::Verb::close) ++points;
  }
  if (bent || points > kPlainest) ++parts;
  if (parts > 0) shapes_ += parts;
  else ++bars_;
}

void OtherShapes::picture(int width, int height, SeenRect const& shown) {
  if (std::min(width, height) >= kLowestPicture && std::min(shown.width(), shown.height()) >= kLowestLetter) ++pictures_;
}

bool OtherShapes::could_be_letters() const { return pictures_ > 0 || shapes_ >= kFewestShapes || bars_ >= kFewestBars; }

}  // namespace layright
