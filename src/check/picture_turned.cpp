#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> picture_turned_findings(SourceView const& view) {
  std::vector<Finding> findings;
  for (auto const& p : view.source.pictures) {
    bool const mirrored = p.orientation == 2 || p.orientation == 4 || p.orientation == 5 || p.orientation == 7;
    if (!mirrored) continue;
    Finding f{.check = "picture.turned", .level = Level::note};
    f.message = (view.source.pictures.size() > 1 ? "page " + std::to_string(p.page) + ": " : std::string()) +
                "its pixels are stored mirrored and it asks to be shown the right way round (orientation " + std::to_string(p.orientation) +
                "), which is done; programs that pass this over show it mirrored, so look which way it was meant";
    f.measured = {{"orientation", static_cast<double>(p.orientation)}};
    findings.push_back(std::move(f));
  }
  return findings;
}

}  // namespace

CheckInfo picture_turned() {
  return {.id = "picture.turned",
          .levels = "note",
          .title = "a picture is stored mirrored and asks to be shown the other way round",
          .measures = "its orientation, 1 to 8",
          .limit = "none",
          .source = "Exif 2.3, 4.6.4 A; TIFF 6.0, section 8; that it is reported is our own",
          .does_not_cover = "how the art reads (reading.*)",
          .explain =
              "Cameras and scanners store a picture as it comes and note how it is to be turned. layright turns it as it asks, all eight ways. Four "
              "of them "
              "also mirror it. That is rare, and some programs do not do it, so the customer may have seen it the other way: worth a look, for here "
              "reversing twice spoils film.",
          .source_check = picture_turned_findings};
}

}  // namespace layright
