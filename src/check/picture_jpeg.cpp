#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> picture_jpeg_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  double const limit = view.target.limits.jpeg_quality;
  Places strong;
  double worst = 100;
  for (PictureNote const& p : art->pictures) {
    if (p.jpeg_quality == 0 || p.jpeg_quality >= limit) continue;
    strong.add(p.shown);
    worst = std::min(worst, static_cast<double>(p.jpeg_quality));
  }
  if (strong.count == 0) return {};
  auto f = art_finding("picture.jpeg", Level::note, strong,
                       counted(strong.count, "picture was", "pictures were") + " compressed strongly" + where_text(strong, view.unit) +
                           ", the most at a JPEG quality of about " + format_number(worst, 0) +
                           " of 100: blocks and halos may show; ask for the picture before it was compressed");
  f.measured.emplace_back("quality", worst);
  f.wanted = {{"quality", limit}};
  return {f};
}

}  // namespace

CheckInfo picture_jpeg() {
  return {.id = "picture.jpeg",
          .levels = "note",
          .title = "a picture was compressed so strongly that it shows",
          .measures = "the quality, 1 to 100, at which the usual luminance table comes nearest to the picture's own",
          .limit = "at least 50 (jpeg-quality, of the limits)",
          .source =
              "ITU-T T.81, Annex K.1, with the scaling of the Independent JPEG Group's library; ISO 32000-1, 7.4.8; the limit is "
              "common practice, no published source",
          .does_not_cover = "pictures compressed before and saved again with less; JPEG 2000",
          .explain =
              "JPEG throws away fine detail, and how much is written into the file as a table of steps. Below a quality of about 50 "
              "blocks and halos around letters show in print, and saving the picture again does not bring back what is gone. Ask for the "
              "picture before it went through a messenger or a web page.",
          .needs_marks = true,
          .page = picture_jpeg_findings,
          .needs_art = true};
}

}  // namespace layright
