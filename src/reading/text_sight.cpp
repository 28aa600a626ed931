#include "reading/text_sight.h"

#include <algorithm>
#include <cmath>

#include "reading/grounds.h"

namespace layright {
namespace {

// A letter of 6 pt is ten pixels high at 120 dpi.
constexpr double kMostPixelsOfSight = 1.5e6, kFinestSight = 150, kCoarsestSight = 36;
constexpr int kStep = static_cast<int>(255 * kStandsOut);

}  // namespace

std::optional<TextSight> TextSight::look(fz_context* c, fz_page* page, Rect<SeenSpace> const& what, bool clear) {
  double const square_inches = std::max(what.area(), 1.0) / (72.0 * 72.0);
  double const dpi = std::clamp(std::sqrt(kMostPixelsOfSight / square_inches), kCoarsestSight, kFinestSight);
  auto const with = draw_page(c, page, what, dpi, clear), without = draw_page(c, page, what, dpi, clear, LiveText::left_out);
  if (!with || !without || with->rgb.size() != without->rgb.size()) return std::nullopt;
  TextSight sight;
  sight.frame_ = {with->width, with->height, with->dpi, with->area, {}, {}};
  sight.differs_.reserve(with->rgb.size() / 3);
  for (std::size_t at = 0; at < with->rgb.size() / 3; ++at) {
    int most = 0;
    bool const shows = !clear || with->alpha[at] > kStep || without->alpha[at] > kStep;
    for (std::size_t i = 3 * at; shows && i < 3 * at + 3; ++i) most = std::max(most, std::abs(with->rgb[i] - without->rgb[i]));
    if (clear) most = std::max(most, std::abs(with->alpha[at] - without->alpha[at]));
    sight.differs_.push_back(most > kStep);
  }
  return sight;
}

double TextSight::seen(Rect<SeenSpace> const& place, std::vector<Rect<SeenSpace>> const& but) const {
  double const k = frame_.dpi / 72;
  auto const column = [&](double x) { return std::clamp(static_cast<int>(std::lround((x - frame_.area.x0) * k)), 0, frame_.width); };
  auto const row = [&](double y) { return std::clamp(static_cast<int>(std::lround((frame_.area.y1 - y) * k)), 0, frame_.height); };
  std::vector<Rect<SeenSpace>> near;
  for (auto const& other : but)
    if (intersection(other, place)) near.push_back(other);
  long count = 0;
  for (int y = row(place.y1); y < row(place.y0); ++y)
    for (int x = column(place.x0); x < column(place.x1); ++x) {
      if (!differs_[static_cast<std::size_t>(y) * static_cast<std::size_t>(frame_.width) + static_cast<std::size_t>(x)]) continue;
      double const px = frame_.area.x0 + (x + 0.5) / k, py = frame_.area.y1 - (y + 0.5) / k;
      bool const elsewhere =
          std::any_of(near.begin(), near.end(), [&](auto const& o) { return px >= o.x0 && px <= o.x1 && py >= o.y0 && py <= o.y1; });
      if (!elsewhere) ++count;
    }
  return static_cast<double>(count) / (k * k);
}

}  // namespace layright
