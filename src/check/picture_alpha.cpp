#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> picture_alpha_findings(SourceView const& view) {
  std::vector<Finding> findings;
  for (auto const& p : view.source.pictures) {
    if (!p.alpha) continue;
    Finding f{.check = "picture.alpha", .level = Level::note};
    f.message = (view.source.pictures.size() > 1 ? "page " + std::to_string(p.page) + ": " : std::string()) +
                "it has transparency: nothing prints where it is clear" + (view.target.white_prints() ? ", and no white is laid there" : "") +
                "; soft edges print as a screen of dots";
    findings.push_back(std::move(f));
  }
  return findings;
}

}  // namespace

CheckInfo picture_alpha() {
  return {
      .id = "picture.alpha",
      .levels = "note",
      .title = "a picture has transparency",
      .measures = "whether it has a channel of opacity",
      .limit = "none",
      .source = "W3C PNG 6.2; TIFF 6.0, section 18; what it means on film is common practice, no published source",
      .does_not_cover = "transparency inside a PDF",
      .explain =
          "For a transfer, transparency is welcome: the ground stays clear and only the art prints. It is reported because what is clear cannot be "
          "seen apart from white on a screen, and because half-clear pixels along soft edges print as dots, which weed badly.",
      .source_check = picture_alpha_findings};
}

}  // namespace layright
