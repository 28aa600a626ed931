// How much of each ink a page takes: its separations, drawn small.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "geometry/places.h"
#include "geometry/rect.h"
#include "geometry/space.h"

struct fz_context;
struct fz_page;

namespace layright {

struct InkCoverage {
  std::string name;         // Cyan, Magenta, Yellow, Black, then the spot colours as the file names them
  double coverage_pct = 0;  // mean tint over the page as seen
};

/// What is looked for in the drawing.
struct InksWanted {
  double total_pct = 300;          // the most of all inks together
  std::vector<std::string> white;  // names of separations that are white
  double white_pct = 50;           // the least of a white plate under other inks
};

struct PageInks {
  std::vector<InkCoverage> inks;
  double total_max_pct = 0;               // the greatest sum of all tints at one place (a pixel of the drawing)
  Places over;                            // where the sum passes the limit: one place for each patch that hangs together, the largest first
  double over_pct = 0;                    // of the page's area
  std::vector<std::string> white_plates;  // the separations with marks that are white; the next two tell nothing where there are none
  Places bare;                            // where other inks lie with less white than wanted, in patches at least kLeastBare pixels wide and high
  double bare_pct = 0;                    // of the area of the other inks
};
inline constexpr double kLeastInk = 10;  // percent of all other inks, below which a place needs no white
inline constexpr int kLeastBare = 3;     // pixels: a plate is kept a little smaller than the art, so that it does not show at the edges
inline constexpr double kInksDpi = 36;

/// Draws all that is `seen` at inks_dpi() with each spot colour on a
/// plane of its own; other colours are converted to the inks of the process as ISO 32000-1, 10.3.5 has it. Nothing where the library
/// fails. Throws nothing.
std::optional<PageInks> read_inks(fz_context* library, fz_page* page, Rect<SeenSpace> const& seen, InksWanted const& wanted);

/// kInksDpi; less on a page so large that it would take more than kMostInkPixels, more on one so small that edges would decide.
double inks_dpi(Rect<SeenSpace> const& seen);
inline constexpr double kMostInkPixels = 4e6, kLeastInkPixels = 1e5, kFinestInksDpi = 288;

}  // namespace layright
