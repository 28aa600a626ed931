#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

/// The art brings a separation that is white, and marks show in it.
bool has_own_plate(PageView const& view) {
  ArtNotes const* const art = art_of(view);
  return art && std::ranges::any_of(art->colours, [&](ColourNote const& c) {
           return std::ranges::any_of(c.inks, [&](auto const& ink) { return is_white_ink(ink, view.target) || ink == view.target.press.white_ink; });
         });
}

std::vector<Finding> white_twice_findings(PageView const& view) {
  if (!view.target.white_prints()) return {};
  bool const made = view.target.plate.from != PlateFrom::off;
  if (made && view.target.plate.as != PlateAs::spot && has_own_plate(view))
    return {{.check = "white.twice",
             .level = Level::hold,
             .message = "the art has white of its own, which prints with its colors, and the plate that lies apart would be laid over it once more; "
                        "have it taken "
                        "out, or say plate-as = \"spot\""}};
  if (!view.target.white.on) return {};
  if (!made && !has_own_plate(view)) return {};
  return {{.check = "white.twice",
           .level = Level::hold,
           .message = std::string(made ? "the target asks for a white plate in the file" : "the file brings a white plate of its own") +
                      " and for the press's own white as well: white would be laid twice; set white = \"off\"" +
                      (made ? " or plate = \"off\"" : "")}};
}

}  // namespace

CheckInfo white_twice() {
  return {
      .id = "white.twice",
      .levels = "hold",
      .title = "white would be laid twice",
      .measures =
          "whether the file carries a white plate, or will, and the target asks the press's driver for white as well, or for a plate that lies apart",
      .limit = "none",
      .source = "common practice, no published source",
      .explain =
          "White is laid by a plate in the file, or by the press's driver, which makes one by itself. With both the white is laid on twice: "
          "thick, and out of place at the edges. Switch off one of the two in the target.",
      .needs_marks = true,
      .page = white_twice_findings,
      .needs_art = true};
}

}  // namespace layright
