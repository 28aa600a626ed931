#include "marks/white_parts.h"

#include <algorithm>
#include <utility>

namespace layright {
namespace {

// Our own, argued. A picture on white paper has that paper at its border; a badge or a photograph has ink there, here and there white.
constexpr double kPaperAtBorder = 0.25;
// The perimeter in pixel sides, squared, over 4 pi times the area: a disc has 1.6, the inside of an o, A or 4 at most 2.6, an L 3.1, an S 5.
constexpr double kLikeLetter = 2.9;
constexpr double kFourPi = 12.566370614359172;

}  // namespace

void WhiteParts::Piece::take(Piece const& other) {
  box = {std::min(box.x0, other.box.x0), std::min(box.y0, other.box.y0), std::max(box.x1, other.box.x1),
         std::max(box.y1, other.box.y1), box.area + other.box.area,      0};
  perimeter += other.perimeter;
  at_border = at_border || other.at_border;
}

std::size_t WhiteParts::root_of(std::size_t piece) const {
  while (parent_[piece] != piece) piece = parent_[piece] = parent_[parent_[piece]];
  return piece;
}

void WhiteParts::join(std::size_t a, std::size_t b) {
  a = root_of(a), b = root_of(b);
  if (a == b) return;
  if (b < a) std::swap(a, b);
  parent_[b] = a;
  pieces_[a].take(pieces_[b]);
}

void WhiteParts::add_run(int x0, int x1) {
  while (next_above_ < above_.size() && above_[next_above_].x1 <= x0) ++next_above_;
  bool const fresh = next_above_ == above_.size() || above_[next_above_].x0 >= x1;
  std::size_t const piece = fresh ? pieces_.size() : root_of(above_[next_above_].piece);
  Piece const run{{x0, height_, x1, height_ + 1, static_cast<double>(x1 - x0), 0}, 2.0 * (x1 - x0) + 2, x0 == 0 || x1 == width_ || height_ == 0};
  if (fresh) {
    parent_.push_back(piece);
    pieces_.push_back(run);
  } else {
    pieces_[piece].take(run);
  }
  runs_.push_back({x0, x1, piece});
  for (std::size_t i = next_above_; i < above_.size() && above_[i].x0 < x1; ++i) {
    join(above_[i].piece, piece);
    pieces_[root_of(piece)].perimeter -= 2.0 * (std::min(x1, above_[i].x1) - std::max(x0, above_[i].x0));
  }
}

void WhiteParts::row(WhiteKind const* kinds, int width) {
  if (torn_) return;
  width_ = width;
  above_.swap(runs_);
  runs_.clear();
  next_above_ = 0;
  white_in_last_ = 0;
  for (int x = 0; x < width;) {
    int end = x + 1;
    while (end < width && kinds[end] == kinds[x]) ++end;
    if (kinds[x] == WhiteKind::ink) ink_ += end - x;
    if (kinds[x] == WhiteKind::clear) clear_ += end - x;
    if (kinds[x] == WhiteKind::white) {
      add_run(x, end);
      white_in_last_ += end - x;
      white_at_sides_ += (x == 0) + (end == width);
    }
    x = end;
  }
  if (height_ == 0) white_in_first_ = white_in_last_;
  ++height_;
  torn_ = pieces_.size() > kMostPieces;
}

std::vector<WhitePart> WhiteParts::parts() const {
  if (torn_ || ink_ <= 0) return {};
  std::vector<bool> in_last(pieces_.size());
  for (auto const& run : runs_) in_last[root_of(run.piece)] = true;
  double const border = 2.0 * (width_ + height_);
  bool const on_paper = clear_ == 0 && static_cast<double>(white_at_sides_ + white_in_first_ + white_in_last_) >= kPaperAtBorder * border;
  std::vector<WhitePart> found;
  for (std::size_t i = 0; i < pieces_.size(); ++i) {
    if (parent_[i] != i) continue;
    auto const& piece = pieces_[i];
    // Beside what is clear, white is meant as white, wherever it lies.
    if (clear_ == 0 && (piece.at_border || in_last[i])) continue;
    if (on_paper && piece.perimeter * piece.perimeter < kLikeLetter * kFourPi * piece.box.area) continue;
    found.push_back(piece.box);
    found.back().thickness = 2 * piece.box.area / piece.perimeter;
  }
  auto const larger = [](WhitePart const& a, WhitePart const& b) { return a.area > b.area; };
  if (found.size() > kMostParts) {
    std::ranges::nth_element(found, found.begin() + kMostParts, larger);
    found.resize(kMostParts);
  }
  std::ranges::sort(found, [](WhitePart const& a, WhitePart const& b) { return a.y0 != b.y0 ? a.y0 < b.y0 : a.x0 < b.x0; });
  return found;
}

}  // namespace layright
