#include "job/page_shape.h"

#include <algorithm>
#include <cmath>

#include "place/correction.h"

namespace layright {
namespace {

constexpr double kPixelsACell = 3;
constexpr int kWhite = 250;  // of 255, in each channel: paper-white where the press lays none

int cells_in(double points) { return std::max(static_cast<int>(std::ceil(points / kShapeCell - 1e-6)), 1); }

/// How much ink a pixel has, from 0 to 1.
double ink_in(PagePicture const& picture, std::size_t pixel, bool white_prints) {
  double const alpha = picture.alpha.empty() ? 1 : static_cast<unsigned char>(picture.alpha[pixel]) / 255.0;
  if (white_prints || alpha == 0) return alpha;
  auto const* rgb = &picture.rgb[3 * pixel];
  bool const white = std::all_of(rgb, rgb + 3, [](auto channel) { return static_cast<unsigned char>(channel) >= kWhite; });
  return white && alpha == 1 ? 0 : alpha;
}

}  // namespace

int shape_picture_side(Target const& target) { return static_cast<int>(std::ceil(target.sheet.length.in_points() / kShapeCell * kPixelsACell)); }

std::shared_ptr<InkShape const> ink_shape_of(std::optional<PagePicture> const& picture, Placement const& placement, Target const& target) {
  auto const back = *correction_of(target).inverted();
  auto const ink = back.apply(*placement.ink);
  int const columns = cells_in(ink.width()), rows = cells_in(ink.height());
  double area = 0;
  std::vector<std::pair<int, int>> cells;
  if (picture) {
    double const step = 72 / picture->dpi;
    for (int y = 0; y < picture->height; ++y)
      for (int x = 0; x < picture->width; ++x) {
        double const tint = ink_in(*picture, static_cast<std::size_t>(y) * static_cast<std::size_t>(picture->width) + static_cast<std::size_t>(x),
                                   target.white_prints());
        if (tint <= 0) continue;
        auto const p = picture->area;
        auto const where = back.apply(Rect<SheetSpace>{p.x0 + x * step, p.y1 - (y + 1) * step, p.x0 + (x + 1) * step, p.y1 - y * step});
        area += tint * where.area();
        auto const cell = [](double from, double at, int most) {
          return std::clamp(static_cast<int>(std::floor((at - from) / kShapeCell)), 0, most - 1);
        };
        for (int column = cell(ink.x0, where.x0, columns); column <= cell(ink.x0, where.x1, columns); ++column)
          for (int row = cell(ink.y0, where.y0, rows); row <= cell(ink.y0, where.y1, rows); ++row) cells.emplace_back(column, row);
      }
  }
  auto const shape = std::make_shared<InkShape>(columns, rows, picture ? std::min(area, ink.area()) : ink.area());
  for (auto const& [column, row] : cells) shape->set(column, row);
  for (int row = 0; !picture && row < rows; ++row)
    for (int column = 0; column < columns; ++column) shape->set(column, row);
  return shape;
}

}  // namespace layright
