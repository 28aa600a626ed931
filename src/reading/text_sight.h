// Which live text is seen, told by two drawings of the page: as it is, and without its live text.
#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "geometry/rect.h"
#include "geometry/space.h"
#include "raster/page_picture.h"

struct fz_context;
struct fz_page;

namespace layright {

/// Where two drawings of one page differ as much as an eye sees.
class TextSight {
 public:
  /// `what` lies around all text that is asked about; `clear`: the press lays white, so white is seen as well. Nothing where the library
  /// fails. Throws nothing.
  static std::optional<TextSight> look(fz_context* library, fz_page* page, Rect<SeenSpace> const& what, bool clear);
  /// How many square points of `place` the text changes, without what lies in `but`.
  double seen(Rect<SeenSpace> const& place, std::vector<Rect<SeenSpace>> const& but) const;

 private:
  PagePicture frame_;  // its size and place only
  std::vector<bool> differs_;
};

}  // namespace layright
