#include "verify/sheet_comparer.h"

#include <algorithm>

namespace layright {

void SheetComparer::expect(TracedSheet sheet) { sheet_ = std::move(sheet); }

void SheetComparer::differ(std::string const& how) {
  if (!difference_) difference_ = "sheet " + std::to_string(frame_.number) + ": " + how;
}

void SheetComparer::begin_page(PageFrame const& frame) {
  frame_ = frame;
  next_ = 0;
  own_marks_ = 0;
  inside_ = over_ = false;
}

void SheetComparer::begin_piece() {
  auto const& piece = sheet_.pieces[next_++];
  if (std::fseek(tape_, piece.tape_offset, SEEK_SET) != 0) return differ("the tape breaks off");
  piece_.expect(piece.placement);
  piece_.begin_page(frame_);
  inside_ = true;
}

/// What a piece's page has beside its content is nothing: it was made part of it when the page was laid.
void SheetComparer::finish_piece() {
  MarkEntry end;
  end.kind = MarkEntry::Kind::section;
  piece_.mark(end);
  piece_.end_page();
  inside_ = false;
}

void SheetComparer::own_mark(MarkEntry const& entry) {
  if (entry.kind != MarkEntry::Kind::mark) return differ("it has more than its pieces and its marks");
  auto const& m = entry.matrix;
  auto const& b = entry.bounds;
  auto const where = Matrix<SheetSpace, SheetSpace>{m[0], m[1], m[2], m[3], m[4], m[5]}.apply(Rect<SheetSpace>{b[0], b[1], b[2], b[3]});
  if (!sheet_.live.contains(where, kPlaceTolerance)) return differ("a mark beside the pieces leaves the live area");
  for (auto const& box : sheet_.cut_boxes)
    if (intersection(box.grown(-kPlaceTolerance), where)) return differ("a mark beside the pieces lies on one of them");
  ++own_marks_;
}

void SheetComparer::mark(MarkEntry const& entry) {
  if (difference_) return;
  if (inside_ && piece_.content_over()) finish_piece();
  if (entry.kind == MarkEntry::Kind::section) {
    if (!over_ && (inside_ || next_ < sheet_.pieces.size())) return differ("a piece is missing");
    over_ = true;
    return;
  }
  if (over_) return differ("it has annotations");
  if (!inside_ && next_ < sheet_.pieces.size()) begin_piece();
  if (inside_) piece_.mark(entry);
  else own_mark(entry);
  if (auto const how = piece_.difference()) differ("piece " + std::to_string(next_) + ": " + *how);
}

void SheetComparer::end_page() {
  if (difference_) return;
  if (!over_) return differ("it breaks off");
  if (own_marks_ != sheet_.own_marks) differ("it has another number of marks than were drawn");
}

}  // namespace layright
