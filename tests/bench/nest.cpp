// Orders drawn by lot, on sheets by layright and by libnest2d: sheets and processor seconds of both.
//   nest boxes|shapes ORDERS        "SHEETS SECONDS SHEETS SECONDS", ours first
// Live area 12 x 18.5 in, gap 0.25 in; boxes turn by a quarter, outlines by any quarter turn, for both.
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <random>
#include <string>

#include "gang/gang.h"
#include "gang/ink_shape.h"
#include "nest_other.h"

namespace {

constexpr double kWide = 12 * 72, kHigh = 18.5 * 72, kGap = 18;

struct Drawn {
  NestOutline outline;
  double width, height;
};

double between(std::mt19937& lots, double low, double high) { return low + (high - low) * static_cast<double>(lots() >> 5) / (1U << 27); }

/// A triangle, an L, a T, a cross, a star or a disk, as high and wide as told; or its box.
Drawn drawn_piece(std::mt19937& lots, bool boxes) {
  double const w = between(lots, 72, 576), h = between(lots, 72, 576);
  double const a = between(lots, 0.2, 0.45), b = 1 - a;
  NestOutline all;
  switch (boxes ? 6 : static_cast<int>(lots() % 6)) {
    case 0: all = {{0, 0}, {1, 0}, {a, 1}}; break;
    case 1: all = {{0, 0}, {1, 0}, {1, a}, {a, a}, {a, 1}, {0, 1}}; break;
    case 2: all = {{a, 0}, {b, 0}, {b, b}, {1, b}, {1, 1}, {0, 1}, {0, b}, {a, b}}; break;
    case 3: all = {{a, 0}, {b, 0}, {b, a}, {1, a}, {1, b}, {b, b}, {b, 1}, {a, 1}, {a, b}, {0, b}, {0, a}, {a, a}}; break;
    case 4:
    case 5:
      for (int i = 0; i < 20; ++i) {
        double const far = lots() % 2 == 0 || i % 5 == 0 ? 0.5 : 0.5 - a / 4, angle = i * 2 * M_PI / 20;
        all.push_back({0.5 + far * std::cos(angle), 0.5 + far * std::sin(angle)});
      }
      break;
    default: all = {{0, 0}, {1, 0}, {1, 1}, {0, 1}};
  }
  for (auto& corner : all) corner.x *= w, corner.y *= h;
  return {all, w, h};
}

bool inside(NestOutline const& outline, double x, double y) {
  bool in = false;
  for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
    auto const &p = outline[i], &q = outline[j];
    if ((p.y > y) != (q.y > y) && x < (q.x - p.x) * (y - p.y) / (q.y - p.y) + p.x) in = !in;
  }
  return in;
}

double area_of(NestOutline const& outline) {
  double twice = 0;
  for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) twice += outline[j].x * outline[i].y - outline[i].x * outline[j].y;
  return std::abs(twice) / 2;
}

/// A cell has ink where any of six by six places in it has.
std::shared_ptr<layright::InkShape const> shape_of(Drawn const& piece) {
  constexpr int kPlaces = 6;
  double const cell = layright::kShapeCell;
  auto shape = std::make_shared<layright::InkShape>(static_cast<int>(std::ceil(piece.width / cell)), static_cast<int>(std::ceil(piece.height / cell)),
                                                    area_of(piece.outline));
  for (int row = 0; row < shape->rows(); ++row)
    for (int column = 0; column < shape->columns(); ++column)
      for (int i = 0; i < kPlaces * kPlaces && !shape->has(column, row); ++i)
        if (inside(piece.outline, (column + (i % kPlaces + 0.01) / (kPlaces - 0.98)) * cell, (row + (i / kPlaces + 0.01) / (kPlaces - 0.98)) * cell))
          shape->set(column, row);
  return shape;
}

struct Total {
  std::size_t sheets = 0;
  double seconds = 0;
};

class Meter {
 public:
  explicit Meter(Total& total) : total_(total), begun_(std::clock()) {}
  ~Meter() { total_.seconds += static_cast<double>(std::clock() - begun_) / CLOCKS_PER_SEC; }

 private:
  Total& total_;
  std::clock_t begun_;
};

void by_layright(std::vector<Drawn> const& order, bool boxes, Total& total) {
  std::vector<layright::GangPiece> pieces;
  for (auto const& piece : order)
    pieces.push_back(
        {piece.width, piece.height, boxes ? layright::PieceTurns::quarter : layright::PieceTurns::any, boxes ? nullptr : shape_of(piece)});
  Meter const meter(total);
  auto const layout = layright::arrange_gang(pieces, {kWide, kHigh, kGap, boxes ? layright::Cuts::free : layright::Cuts::shape});
  total.sheets += static_cast<std::size_t>(layout->sheets);
}

void by_libnest2d(std::vector<Drawn> const& order, bool boxes, Total& total) {
  std::vector<NestOutline> outlines;
  for (auto const& piece : order) outlines.push_back(piece.outline);
  total.sheets += sheets_by_libnest2d(outlines, {kWide, kHigh, kGap}, boxes, total.seconds);
}

}  // namespace

int main(int count, char** words) {
  if (count != 3) return std::fputs("usage: nest boxes|shapes ORDERS\n", stderr), 64;
  bool const boxes = std::string(words[1]) == "boxes";
  std::mt19937 lots(1);
  Total ours, theirs;
  for (int i = std::atoi(words[2]); i > 0; --i) {
    std::vector<Drawn> order;
    for (auto const wanted = 20 + lots() % 80; order.size() < wanted;)
      order.insert(order.end(), std::min<std::size_t>(1 + lots() % 12, wanted - order.size()), drawn_piece(lots, boxes));
    by_layright(order, boxes, ours);
    by_libnest2d(order, boxes, theirs);
  }
  std::printf("%zu %.3f %zu %.3f\n", ours.sheets, ours.seconds, theirs.sheets, theirs.seconds);
}
