#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> colour_registration_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art || art->registration.count == 0) return {};
  auto const trim = view.page.has_trim ? view.page.seen_trim() : view.page.seen.rect();
  Places inside;
  for (auto const& where : art->registration.first)
    if (auto const both = intersection(where, trim); both && both->area() > 0) inside.add(where);
  if (inside.count > 0)
    return {art_finding("colour.registration", Level::hold, inside,
                        counted(inside.count, "mark of the art is", "marks of the art are") + " in the ink of registration marks (All)" +
                            where_text(inside, view.unit) +
                            ": it would get every toner at once, which does not fuse; have its color changed to black, or accept it with --accept "
                            "colour.registration")};
  return {art_finding("colour.registration", Level::note, art->registration,
                      counted(art->registration.count, "registration mark lies", "registration marks lie") + " beyond the trim" +
                          where_text(art->registration, view.unit) +
                          ": on film nothing is trimmed, so it would be printed unless the art is placed by its trim")};
}

}  // namespace

CheckInfo colour_registration() {
  return {.id = "colour.registration",
          .levels = "hold; note beyond the trim",
          .title = "art is painted in the ink of registration marks",
          .measures = "marks that show in the separation All, inside and outside the trim box",
          .limit = "none",
          .source = "ISO 32000-1, 8.6.6.4",
          .does_not_cover = "more places than the first 20",
          .explain =
              "The ink All prints on every separation at once: it is made for the marks by which separations are laid over each other. "
              "Art in it gets all the toner there is, three or four layers thick, which cracks and does not fuse. That is a bad sheet for "
              "certain. Marks beyond the trim box are where they belong; on film nothing is trimmed, so they are reported.",
          .needs_marks = true,
          .page = colour_registration_findings,
          .needs_art = true};
}

}  // namespace layright
