#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> picture_mirror_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  Places mirrored, upright;
  for (PictureNote const& p : art->pictures) {
    if (p.stencil || std::min(p.width, p.height) < kLeastPixels) continue;
    (p.reversed ? mirrored : upright).add(p.shown);
  }
  if (mirrored.count == 0 || upright.count == 0) return {};
  bool const fewer = mirrored.count <= upright.count;
  Places const& odd = fewer ? mirrored : upright;
  auto f = art_finding("picture.mirror", Level::note, odd,
                       counted(odd.count, "picture is ", "pictures are ") + (fewer ? "mirrored" : "not mirrored") + where_text(odd, view.unit) +
                           " and " + std::to_string(fewer ? upright.count : mirrored.count) + (fewer ? " are not" : " are") +
                           ": look whether that is meant, or letters in one of them will come out reversed");
  f.measured.emplace_back("mirrored", static_cast<double>(mirrored.count));
  f.measured.emplace_back("upright", static_cast<double>(upright.count));
  return {f};
}

}  // namespace

CheckInfo picture_mirror() {
  return {.id = "picture.mirror",
          .levels = "note",
          .title = "some pictures are mirrored in place while others are not",
          .measures = "the sign of each picture's matrix",
          .limit = "none",
          .source = "common practice, no published source",
          .explain =
              "Where all pictures of a page lie the same way, the page as a whole is mirrored or is not, and the reading tells which. "
              "Where some are mirrored and others are not, somebody flipped single pictures: for looks, or because the file was prepared "
              "for film by hand and some were forgotten. Stencils, masks and patterns of few pixels do not count.",
          .needs_marks = true,
          .page = picture_mirror_findings,
          .needs_art = true};
}

}  // namespace layright
