#include "marks/letter_area.h"

#include <cmath>
#include <optional>

namespace layright {
namespace {

constexpr double kWhiteRim = 4, kSameSide = 1;  // points
constexpr double kCovered = 0.9;                // share of the ink

}  // namespace

Rect<SeenSpace> letter_area(Marks const& marks) {
  Rect<SeenSpace> const& ink = *marks.ink;
  std::optional<Rect<SeenSpace>> pictures;
  for (ImageUse const& image : marks.images)
    if (auto const inked = intersection(image.where, ink.grown(2 * kSameSide))) pictures = united(pictures, inked);
  if (!pictures) return ink;
  auto const covered = intersection(*pictures, ink);
  bool const covers = covered && covered->area() >= kCovered * ink.area();
  auto const ends = [](double a, double b) { return std::abs(a - b) <= kSameSide; };
  bool const at_its_edge = ends(pictures->x0, ink.x0) || ends(pictures->x1, ink.x1) || ends(pictures->y0, ink.y0) || ends(pictures->y1, ink.y1);
  return covers && at_its_edge ? ink.grown(kWhiteRim) : ink;
}

}  // namespace layright
