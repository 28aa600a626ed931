// How much of each toner a page takes: drawn small, every colour in the toners that the press has.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "geometry/rect.h"
#include "geometry/space.h"
#include "raster/page_inks.h"

namespace layright {

struct PageToner {
  std::vector<InkCoverage>
      inks;                    // those of the process and separations with a toner of their own; others are taken as their stand-ins in the process
  double painted_pct = 0;      // mean opacity over the page as seen: what a white layer under all art would cover
  double paper_white_pct = 0;  // the part of it that is paper-white paint
};

/// Draws all that is `seen` at inks_dpi(); `own` names the separations that have a toner of their own; `noisy` is
/// WeedWanted's. Nothing where the library fails.
/// Throws nothing.
std::optional<PageToner> read_toner(fz_context* library, fz_page* page, Rect<SeenSpace> const& seen, std::vector<std::string> const& own,
                                    bool noisy = true);

}  // namespace layright
