// Proves that a sheet of several pieces shows each of them as it was laid alone, and beside them nothing but the marks that were drawn there.
#pragma once
#include <cstdio>
#include <optional>
#include <string>
#include <vector>

#include "verify/mark_trace.h"

namespace layright {

/// A piece on the sheet: where its marks begin on the tape, and how the page that it was alone comes onto the sheet.
struct TracedPiece {
  long tape_offset = 0;
  Matrix<SeenSpace, SheetSpace> placement;
};

struct TracedSheet {
  std::vector<TracedPiece> pieces;          // in the order in which they are painted
  long own_marks = 0;                       // that come after them
  Rect<SheetSpace> live;                    // which own marks must not leave
  std::vector<Rect<SheetSpace>> cut_boxes;  // which they must not touch
};

class SheetComparer : public MarkTrace {
 public:
  /// `tape` as TraceWriter wrote it, page by page.
  explicit SheetComparer(std::FILE* tape) : tape_(tape), piece_(tape, true) {}
  void expect(TracedSheet sheet);  // for the next page
  void begin_page(PageFrame const& frame) override;
  void mark(MarkEntry const& entry) override;
  void end_page() override;
  /// The first difference so far in plain words, or nothing.
  std::optional<std::string> difference() const { return difference_; }

 private:
  void begin_piece();
  void finish_piece();
  void own_mark(MarkEntry const& entry);
  void differ(std::string const& how);

  std::FILE* tape_;
  TraceComparer piece_;
  TracedSheet sheet_;
  PageFrame frame_;
  std::size_t next_ = 0;  // the piece that begins next
  bool inside_ = false;   // a piece is being painted
  bool over_ = false;     // the page's content has ended
  long own_marks_ = 0;
  std::optional<std::string> difference_;
};

}  // namespace layright
