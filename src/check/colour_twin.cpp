#include <cmath>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::string plain(std::string const& name) {
  std::string out;
  for (char const c : name)
    if (c != ' ' && c != '-' && c != '_') out += static_cast<char>(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
  return out;
}

bool same_colour(ColourNote const& a, ColourNote const& b) {
  for (int i = 0; i < 3; ++i)
    if (std::fabs(a.full_rgb[i] - b.full_rgb[i]) >= 0.01F) return false;
  return true;
}

std::vector<Finding> colour_twin_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  auto const& all = art->colours;
  auto const art_ink = [](ColourNote const& c) { return c.space == "spot" && !is_process_ink(c.inks[0]); };
  for (std::size_t i = 0; i < all.size(); ++i)
    for (std::size_t j = i + 1; j < all.size(); ++j) {
      if (!art_ink(all[i]) || !art_ink(all[j]) || all[i].inks == all[j].inks) continue;
      if (plain(all[i].inks[0]) != plain(all[j].inks[0]) && !same_colour(all[i], all[j])) continue;
      return {art_finding("colour.twin", Level::note, all[j].marks,
                          "one spot color seems to go by two names, " + names_text({all[i].inks[0], all[j].inks[0]}) +
                              where_text(all[j].marks, view.unit) + ": they may be printed as two colors; have one name used throughout")};
    }
  return {};
}

}  // namespace

CheckInfo colour_twin() {
  return {.id = "colour.twin",
          .levels = "note",
          .title = "one spot color goes by two names",
          .measures = "names of separations that differ only in case, blanks and dashes, or that have the same stand-in",
          .limit = "stand-ins that differ by less than 1 % in red, green and blue",
          .source = "common practice, no published source",
          .does_not_cover = "a second pair on the same page",
          .explain =
              "When art comes from two programs, the same swatch often comes under two names, such as \"Fern 3\" and \"FERN-3\". A press or a "
              "RIP that maps spot colors by name then prints them as two colors. Have one name used throughout.",
          .needs_marks = true,
          .page = colour_twin_findings,
          .needs_art = true};
}

}  // namespace layright
