// The free places of one sheet.
#pragma once
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "gang/boxes.h"

namespace layright {

/// What makes one place better than another: the strip that is left is thin; both strips are thin; the place is small; it lies low.
enum class BoxFit { short_side, long_side, area, low };

/// Which way boxes lie that may be turned: each as it fits best, or all alike: their shorter side across, or their longer one. Alike they stand in
/// rows and columns where each for itself would break them up.
enum class BoxStance { free, upright, lying };
struct BoxWays {
  bool as_given = true, turned = false;
};
/// A box that may not be turned, or would not fit the sheet alike, lies as it can.
BoxWays ways_of(GangBox const& box, BoxStance stance, std::int64_t sheet_width, std::int64_t sheet_height);

struct UnitRect {
  std::int64_t x0 = 0, y0 = 0, x1 = 0, y1 = 0;
  std::int64_t width() const { return x1 - x0; }
  std::int64_t height() const { return y1 - y0; }
  bool contains(UnitRect const& o) const { return o.x0 >= x0 && o.y0 >= y0 && o.x1 <= x1 && o.y1 <= y1; }
};

class FreePlaces {
 public:
  /// `straight`: no two places overlap, and what remains beside a box is parted by one cut that runs through its place.
  FreePlaces(std::int64_t width, std::int64_t height, bool straight);

  struct Place {
    std::size_t place = 0;  // among those that are free
    UnitRect where;
    bool turned = false;
    std::pair<std::int64_t, std::int64_t> cost;  // the less the better
  };
  std::optional<Place> best(GangBox const& box, BoxFit fit, BoxWays ways) const;
  void take(Place const& place);
  std::int64_t used() const { return used_; }

 private:
  void part(UnitRect place, UnitRect const& used);
  void keep_largest(std::size_t first_new);
  std::vector<UnitRect> free_;   // straight: apart; else all that are as large as can be
  std::vector<UnitRect> parts_;  // kept for its room alone
  bool straight_;
  std::int64_t used_ = 0;
};

}  // namespace layright
