// What of a page's ink, and of the gaps in it, is too small for the film: measured on a drawing as the press will make it.
#pragma once
#include <optional>
#include <string>

#include "geometry/places.h"
#include "geometry/rect.h"
#include "geometry/space.h"

struct fz_context;
struct fz_page;

namespace layright {

/// All as printed: `scale` is how much larger the art will be on the sheet than it is seen on the page.
struct WeedWanted {
  double dpi = 600;  // of the press
  double scale = 1;
  double width_pt = 0.5;      // the narrowest that holds, or opens
  double area_pt2 = 2;        // the least area, in square points
  double length_pt = 6;       // a thin part of something wider counts from this length on
  bool white_prints = false;  // paper-white paint is ink
  bool noisy = true;          // paper-white is as wide as pictures with noise ask for; else a tint of half a percent is ink
  double seconds = 0;         // of the processor: it stops at the next band; 0: never
};

/// Pieces of one kind that are too small.
struct WeedFound {
  // The narrowest first, then the smallest. Specks under kWeedDust, and gaps of one pixel, only where there are kManyWeedPieces of them; in
  // lines of ordinary text only where many of the letters have them (weed_text.h).
  Places places;
  std::string finest;   // what the first of them is: a hair in the letter "#"
  double width_pt = 0;  // as printed: the largest disc in the narrowest of them; 0: all are wide enough
  double area_pt2 = 0;  // as printed: the smallest of them, in square points
};

struct PageWeed {
  WeedFound ink;         // islands, and thin parts of larger marks
  WeedFound gaps;        // holes in ink, and thin gaps in it or between marks
  double dpi = 0;        // pixels to the inch as printed
  double looked_at = 1;  // the part of the art, from above, where it had to stop
};
inline constexpr double kUsualPressDpi = 600;   // common practice, no published source
inline constexpr double kWeedDust = 0.25;       // points: specks and holes smaller than such a square show nowhere. Our own
inline constexpr long kManyWeedPieces = 1000;   // dots and noise, not details that somebody drew. Our own
inline constexpr double kMostWeedSide = 20000;  // pixels; a larger page is drawn coarser
inline constexpr int kMostWeedWidth = 24;       // pixels; for a wider limit the page is drawn coarser

/// Draws what the page prints inside `ink` and `seen`, in bands, every pixel wholly ink or wholly clear. Nothing where the library fails
/// or there is nothing to draw. Throws nothing.
std::optional<PageWeed> read_weed(fz_context* library, fz_page* page, Rect<SeenSpace> const& seen, Rect<SeenSpace> const& ink,
                                  WeedWanted const& wanted);

}  // namespace layright
