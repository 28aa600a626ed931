#include <cmath>

#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

std::string stated(SourcePicture const& p) {
  if (p.along <= 0 || p.down <= 0) return "it does not say how many pixels go to the inch";
  return "it says " + format_number(p.along, 2) + (std::abs(p.along - p.down) > 0.01 ? " x " + format_number(p.down, 2) : "") +
         " pixels to the inch, which cannot be meant";
}

std::vector<Finding> picture_density_findings(SourceView const& view) {
  std::vector<Finding> findings;
  for (auto const& p : view.source.pictures) {
    if (p.used_along == p.along && p.used_down == p.down) continue;
    auto const& options = view.target.placement;
    bool const size_given = options.width || options.height;
    std::string const where = view.source.pictures.size() > 1 ? "page " + std::to_string(p.page) + ": " : "";
    Finding f{.check = "picture.density"};
    f.message = where + stated(p) + " (" + std::to_string(p.width) + " x " + std::to_string(p.height) + " pixels)";
    f.measured = {
        {"along_ppi", p.along}, {"down_ppi", p.down}, {"width_px", static_cast<double>(p.width)}, {"height_px", static_cast<double>(p.height)}};
    f.wanted = {{"least_ppi", view.target.limits.least_density}, {"most_ppi", view.target.limits.most_density}};
    if (size_given) {
      f.message += ": it is laid at the size on the goods that was asked for";
    } else if (view.target.pixels_per_inch) {
      f.message += ": it is taken at " + format_number(*view.target.pixels_per_inch, 2) + " to the inch, as the target says";
    } else {
      f.level = Level::hold;
      f.message +=
          ", so nobody knows how large it is to be on the goods: give its size with --width or --height, or pixels-per-inch in the target; at 300 it "
          "would be " +
          size_text(static_cast<double>(p.width) * 72 / 300, static_cast<double>(p.height) * 72 / 300, view.unit);
    }
    findings.push_back(std::move(f));
  }
  return findings;
}

}  // namespace

CheckInfo picture_density() {
  return {.id = "picture.density",
          .levels = "hold; note where the size on the goods or pixels-per-inch was given",
          .title = "a picture does not say how large it is, or says what cannot be meant",
          .measures = "pixels to the inch",
          .limit = "10 to 10,000 pixels to the inch (least-density and most-density, of the limits), and no page above 200 in",
          .source = "JFIF 1.02; W3C PNG 11.3.5.3; TIFF 6.0, section 8; Exif 2.3; ISO 32000-1, Annex C; the limits are our own",
          .does_not_cover = "pictures inside a PDF, whose page says how large they are",
          .explain =
              "A picture has pixels, not inches. Many say how many pixels go to the inch; pictures made for screens, and those that went through "
              "a messenger, often do not, or say something left over such as 1. Printing needs a size, and a guess spoils film, so such a "
              "picture is held until somebody says how large it is to be: --width or --height, the size on the goods; or pixels-per-inch in "
              "the target for all that come without.",
          .source_check = picture_density_findings};
}

}  // namespace layright
