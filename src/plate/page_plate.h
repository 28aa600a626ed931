// The white plate of one page, made from what leaves ink on it, to the pixel of the press.
//
// The page is drawn at the press's resolution by the middles of pixels; a pixel has ink from half of full alpha on. A pixel gets no white where
// the middle of the nearest pixel without ink lies within the pull-in of its own middle; outside of the page there is no ink.
#pragma once
#include <optional>
#include <string>

#include "geometry/places.h"
#include "geometry/rect.h"
#include "geometry/space.h"
#include "plate/packed_plate.h"
#include "sheet/plate.h"

struct fz_context;
struct fz_page;

namespace layright {

struct PlateWanted {
  PlateOptions options;  // not PlateFrom::off
  double dpi = 600;      // of the press
  double scale = 1;      // how much larger the art will be on the sheet than it is seen on the page
  double seconds = 0;    // of the processor: gives up at the next band; 0: never
  std::string own_ink;   // a separation of this name in the art is white as well, and is looked at
};

/// What is to be told of a plate. Areas are as printed, in square points; places on the page.
struct PlateNotes {
  double dpi = 0;             // as printed
  double ink_pt2 = 0;         // all ink
  double wanted_pt2 = 0;      // ink that the options lay white under
  double white_pt2 = 0;       // the plate; parts of a layer counted as such
  double bare_pt2 = 0;        // ink that was to have white, and is too fine for any
  double rim_pt2 = 0;         // white within half the pull-in of what has no ink
  double own_rim_pt2 = 0;     // of the art's own white, what shows at the edges of colors, or lies within half the pull-in of them
  Places bare, rim, own_rim;  // in patches, the largest first
};

struct PagePlate {
  PlatePicture picture;
  Rect<SeenSpace> where;  // what the picture covers
  PlateNotes notes;
};

enum class NoPlate { failed, out_of_time, out_of_memory };

/// `area`: what of the page, in its seen space, may hold ink; whole pixels around it are drawn. Nothing where it cannot be made; `why` tells.
/// Throws nothing.
std::optional<PagePlate> make_plate(fz_context* library, fz_page* page, Rect<SeenSpace> const& seen, Rect<SeenSpace> const& area,
                                    PlateWanted const& wanted, NoPlate& why);

}  // namespace layright
