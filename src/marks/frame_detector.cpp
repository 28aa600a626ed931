#include "marks/frame_detector.h"

#include <algorithm>
#include <cmath>

namespace layright {
namespace {

constexpr std::size_t kMostLines = 200;
constexpr double kWidest = 14.4;  // points; wider strokes are borders that somebody wants (the check's own limit is lower)
constexpr double kShare = 0.25;   // of what is seen, each way: smaller frames are table cells and boxes
constexpr double kMeet = 1.0;     // points between a line's end and the corner it should meet

bool level(SeenRect const& line) { return line.width() >= line.height(); }
bool near(double a, double b, double slack) { return std::fabs(a - b) <= slack; }

}  // namespace

bool FrameDetector::large(double width, double height) const { return width >= kShare * seen_.width() && height >= kShare * seen_.height(); }

bool FrameDetector::take(std::optional<SeenRect> const& rectangle, std::vector<SeenRect> const& lines, double width_x, double width_y,
                         SeenRect const& extents) {
  double const stroke = std::max(width_x, width_y);
  if (stroke > kWidest) return false;
  if (rectangle) {
    bool const filled = filled_ && filled_->contains(*rectangle, 0.5) && rectangle->contains(*filled_, 0.5);
    if (filled || !large(rectangle->width(), rectangle->height()) || frames_.size() >= kMostFrames) return false;
    frames_.push_back({*rectangle, extents, stroke});
    return true;
  }
  if (lines.empty() || lines_.size() + lines.size() > kMostLines) return false;
  for (auto const& line : lines)
    if (!large(line.width(), seen_.height()) && !large(seen_.width(), line.height())) return false;
  for (auto const& line : lines) {
    double const wide = level(line) ? width_y : width_x;  // under an uneven scale the pen is not round
    lines_.push_back({line, lines.size() == 1 ? extents : *intersection(line.grown(stroke / 2), extents), wide});
  }
  return true;
}

void FrameDetector::cover(SeenRect const& box, bool solid) {
  auto const over = [&](std::vector<Kept>& kept) {
    if (solid) std::erase_if(kept, [&](Kept const& k) { return box.contains(k.extents, InkLedger::kSame); });
    for (auto& k : kept) {
      SeenRect const hole = k.middle.grown(-k.stroke / 2 - InkLedger::kSame);
      if (intersection(k.extents, box) && !(hole.area() > 0 && hole.contains(box))) k.sure = false;
    }
  };
  over(frames_);
  over(lines_);
}

// Four lines make a frame where two level ones of one span stand above each other and two upright ones join their ends.
void FrameDetector::join_lines() {
  for (std::size_t i = 0; i < lines_.size(); ++i)
    for (std::size_t j = i + 1; j < lines_.size(); ++j) {
      SeenRect const &a = lines_[i].middle, &b = lines_[j].middle;
      double const slack = kMeet + lines_[i].stroke;
      if (!level(a) || !level(b) || !near(a.x0, b.x0, slack) || !near(a.x1, b.x1, slack)) continue;
      double const low = std::min(a.y0, b.y0), high = std::max(a.y0, b.y0);
      if (!large(a.width(), high - low)) continue;
      std::size_t sides[2] = {lines_.size(), lines_.size()};
      for (std::size_t k = 0; k < lines_.size(); ++k) {
        SeenRect const& u = lines_[k].middle;
        if (level(u) || !near(u.y0, low, slack) || !near(u.y1, high, slack)) continue;
        if (near(u.x0, a.x0, slack)) sides[0] = k;
        else if (near(u.x0, a.x1, slack)) sides[1] = k;
      }
      if (sides[0] == lines_.size() || sides[1] == lines_.size() || frames_.size() >= kMostFrames) continue;
      Kept frame{{lines_[sides[0]].middle.x0, low, lines_[sides[1]].middle.x0, high}, lines_[i].extents, lines_[i].stroke};
      std::vector<std::size_t> used{i, j, sides[0], sides[1]};
      std::sort(used.rbegin(), used.rend());
      for (auto k : used) {
        frame.extents = united(frame.extents, lines_[k].extents);
        frame.sure = frame.sure && lines_[k].sure;
        frame.stroke = std::max(frame.stroke, lines_[k].stroke);
        lines_.erase(lines_.begin() + static_cast<std::ptrdiff_t>(k));
      }
      frames_.push_back(frame);
      return join_lines();
    }
}

std::vector<FrameMark> FrameDetector::finish(InkLedger& ledger) {
  join_lines();
  for (auto const& line : lines_) ledger.ink({line.extents, line.sure ? kAllSides : 0U});
  lines_.clear();
  auto const others = ledger.hull();
  std::vector<FrameMark> reported;
  for (auto const& frame : frames_) {
    auto beside = others;
    for (auto const& other : frames_)
      if (&other != &frame) beside = united(beside, std::optional(other.extents));
    reported.push_back({frame.middle, frame.stroke, beside});
  }
  for (auto const& frame : frames_) ledger.ink({frame.extents, frame.sure ? kAllSides : 0U});
  frames_.clear();
  return reported;
}

}  // namespace layright
