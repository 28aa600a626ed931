#include "place/register_marks.h"

#include <array>

namespace layright {

std::vector<Point<SheetSpace>> register_marks(Rect<SheetSpace> const& live, std::optional<Rect<SheetSpace>> const& ink) {
  constexpr double kInside = kRegisterReach + kRegisterLine, kClear = kRegisterReach + 2;
  std::array const across{live.x0 + kInside, (live.x0 + live.x1) / 2, live.x1 - kInside};
  std::array const up{live.y0 + kInside, (live.y0 + live.y1) / 2, live.y1 - kInside};
  std::vector<Point<SheetSpace>> marks;
  if (across[1] - across[0] < 2 * kInside || up[1] - up[0] < 2 * kInside) return marks;
  for (std::size_t row = 0; row < up.size(); ++row)
    for (std::size_t column = 0; column < across.size(); ++column) {
      Point<SheetSpace> const middle{across[column], up[row]};
      bool const in_the_middle = row == 1 && column == 1;
      if (in_the_middle || (ink && intersection(*ink, Rect<SheetSpace>{middle.x, middle.y, middle.x, middle.y}.grown(kClear)))) continue;
      marks.push_back(middle);
    }
  return marks;
}

}  // namespace layright
