// Frames: stroked upright rectangles, or four lines that make one, with nothing inside their stroke.
#pragma once
#include <optional>
#include <vector>

#include "marks/ink_ledger.h"
#include "marks/marks.h"

namespace layright {

/// Holds large frames and lines apart from the other ink until the page has ended, so that each can be told what lies beside it.
class FrameDetector {
 public:
  explicit FrameDetector(SeenRect const& seen) : seen_(seen) {}
  /// Whether the stroked path is a frame or lines, large enough to be one; then it is kept here. `widths`: of the stroke along x and y.
  bool take(std::optional<SeenRect> const& rectangle, std::vector<SeenRect> const& lines, double width_x, double width_y, SeenRect const& extents);
  /// A fill of this rectangle was painted; a frame around it is none.
  void filled(SeenRect const& rectangle) { filled_ = rectangle; }
  /// Something hides what lies beneath.
  void cover(SeenRect const& box, bool solid);
  /// All lines that made no frame, and the frames, go to the ledger; the frames are reported. Call once.
  std::vector<FrameMark> finish(InkLedger& ledger);

 private:
  struct Kept {
    SeenRect middle, extents;
    double stroke;
    bool sure = true;
  };
  bool large(double width, double height) const;
  void join_lines();
  SeenRect seen_;
  std::vector<Kept> frames_, lines_;
  std::optional<SeenRect> filled_;
};

}  // namespace layright
