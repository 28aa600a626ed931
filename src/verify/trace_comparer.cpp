#include "verify/mark_trace.h"

#include <algorithm>
#include <cmath>

#include "geometry/length.h"
#include "verify/trace_format.h"

namespace layright {
namespace {

using Kind = MarkEntry::Kind;

struct DrawnSpace {};  // where a mark lies before its matrix

template <class To>
Matrix<DrawnSpace, To> matrix_of(MarkEntry const& e) {
  auto const& m = e.matrix;
  return {m[0], m[1], m[2], m[3], m[4], m[5]};
}

char const* word(Kind kind) {
  switch (kind) {
    case Kind::mark: return "a mark";
    case Kind::clip: return "a clip";
    case Kind::group: return "a group";
    case Kind::tile: return "a pattern";
    case Kind::mask: return "a soft mask";
    case Kind::close: return "the end of a clip or group";
    case Kind::section: return "the end of the page";
  }
  return "a mark";
}

/// The library counts in floats: what a product of these may be off by. The sum of its parts, times a float's step (6e-8) and some
/// dozens of them, for a page may move its origin step by step thousands of times.
constexpr double kMostDrift = 0.05, kDriftStep = 0.001;  // points; beyond the farthest so far
/// Moves in layers that do not print add up unseen, so there may be thousands of them between two marks. For each mark so far, by the
/// size of the two pages: a thirtieth of a float's step. Measured on a plan of 36 in with 38,000 moves: 0.04 pt at its 13,400th mark,
/// where this allows 0.08; 0.004 pt more than usual on a letter page of 500 marks.
constexpr double kDriftAMark = 2e-9;

/// Whether its matrix leaves no area.
bool is_flat(MarkEntry const& e) {
  double const a = e.matrix[0], b = e.matrix[1], c = e.matrix[2], d = e.matrix[3];
  return std::fabs(a * d - b * c) <= 1e-9 * (a * a + b * b + c * c + d * d);
}

template <class Matrix>
double rounding(Matrix const& m, double x, double y) {
  double const parts = std::max(std::fabs(m.a * x) + std::fabs(m.c * y) + std::fabs(m.e), std::fabs(m.b * x) + std::fabs(m.d * y) + std::fabs(m.f));
  return 4e-6 * parts;
}

struct CellSpace {};
template <class To>
Matrix<CellSpace, To> cell_of(MarkEntry const& e) {
  auto const& m = e.cell;
  return {m[0], m[1], m[2], m[3], m[4], m[5]};
}

/// A pattern is the same whichever of its cells it begins with: `m`, moved by whole steps to lie next to `other`.
Matrix<DrawnSpace, SheetSpace> to_nearest_cell(Matrix<DrawnSpace, SheetSpace> m, Matrix<DrawnSpace, SheetSpace> const& other,
                                               std::array<float, 2> const& step) {
  double const xa = m.a * static_cast<double>(step[0]), xb = m.b * static_cast<double>(step[0]), yc = m.c * static_cast<double>(step[1]),
               yd = m.d * static_cast<double>(step[1]);
  double const area = xa * yd - xb * yc, dx = other.e - m.e, dy = other.f - m.f;
  if (area == 0) return m;
  double const i = std::round((dx * yd - dy * yc) / area), j = std::round((xa * dy - xb * dx) / area);
  m.e += i * xa + j * yc;
  m.f += i * xb + j * yd;
  return m;
}

}  // namespace

TraceComparer::TraceComparer(std::FILE* file, bool in_form) : file_(file), in_form_(in_form) {}

void TraceComparer::expect(Matrix<SeenSpace, SheetSpace> const& placement, std::optional<Rect<SeenSpace>> const& cut,
                           std::optional<Rect<SheetSpace>> const& beside) {
  placement_ = placement;
  cut_ = cut;
  beside_ = beside;
}

void TraceComparer::differ(std::string const& how) {
  if (!difference_) difference_ = "page " + std::to_string(laid_.number) + ", mark " + std::to_string(index_ + 1) + ": " + how;
}

bool TraceComparer::take(void* bytes, std::size_t size) { return size == 0 || std::fread(bytes, 1, size, file_) == size; }

void TraceComparer::begin_page(PageFrame const& frame) {
  laid_ = frame;
  source_ = {};
  last_ = {};
  index_ = 0;
  drift_ = 0;
  depth_ = 0;
  form_group_ = any_note_ = in_cut_ = false;
  blocks_ = {};
  note_.clear();
  TracePage page;
  if (difference_ || !take(&page, sizeof page)) return differ("the tape has no such page");
  source_.number = page.number;
  source_.laid_before = page.laid_before && !in_form_;
  source_.blends = page.blends;
  source_.has_group = page.has_group;
  source_.knocks_out = page.knocks_out;
  source_.crop = page.crop;
  source_.to_seen = page.to_seen;
  source_.free.resize(page.free);
  if (!take(source_.free.data(), page.free * sizeof(Rect<SeenSpace>))) differ("the tape breaks off");
  state_ = cut_ ? State::before_cut : source_.laid_before ? State::content : State::before_clip;
}

MarkEntry TraceComparer::next_entry() {
  MarkEntry entry;
  entry.kind = Kind::section;
  unsigned char head = 0;
  if (!take(&head, 1) || head == kPageEnd) {
    differ("the tape breaks off");
    return entry;
  }
  entry.kind = static_cast<Kind>(head & ~kPlaced);
  bool whole = true;
  if (entry.kind != Kind::section) whole = take(&entry.digest, sizeof entry.digest);
  if (head & kPlaced) whole = whole && take(last_.data(), sizeof last_);
  if (has_place(entry.kind)) entry.matrix = last_;
  if (!whole) differ("the tape breaks off");
  return entry;
}

/// How far the shown mark lies from where the placement sends the wanted one, beyond what rounding explains; in points.
double TraceComparer::off(MarkEntry const& wanted, MarkEntry const& shown) const {
  if (!has_place(shown.kind)) return 0;
  // What lies in a pattern's cell lies there on both pages; where the cell lies is told by the pattern.
  auto const cell = cell_of<SheetSpace>(shown);
  auto const from = shown.in_cell ? then(matrix_of<CellSpace>(wanted), cell) : then(matrix_of<SeenSpace>(wanted), placement_);
  auto to = shown.in_cell ? then(matrix_of<CellSpace>(shown), cell) : matrix_of<SheetSpace>(shown);
  if (shown.kind == Kind::tile) to = to_nearest_cell(to, from, shown.step);
  auto const& b = shown.bounds;
  double worst = 0;
  for (int corner = 0; corner < 4; ++corner) {
    double const x = b[corner % 2 == 0 ? 0 : 2], y = b[corner < 2 ? 1 : 3];
    auto const p = from.apply(Point<DrawnSpace>{x, y});
    auto const q = to.apply(Point<DrawnSpace>{x, y});
    double const scale = std::max(std::hypot(placement_.a, placement_.b), std::hypot(placement_.c, placement_.d));
    double const noise =
        shown.in_cell ? 2 * rounding(to, x, y) + 4 * rounding(cell, 0, 0) : rounding(matrix_of<SeenSpace>(wanted), x, y) * scale + rounding(to, x, y);
    worst = std::max(worst, std::hypot(p.x - q.x, p.y - q.y) - noise);
  }
  return std::isfinite(worst) ? worst : 0;
}

/// How far moves that left no mark may have led the two pages apart by now; in points.
double TraceComparer::unseen_drift() const {
  auto const span = [](auto const& r) { return r.width() + r.height(); };
  return kDriftAMark * static_cast<double>(index_) * (span(placement_.apply(source_.to_seen.apply(source_.crop))) + span(laid_.crop));
}

void TraceComparer::compare(MarkEntry const& wanted, MarkEntry const& shown) {
  if (wanted.kind != shown.kind) return differ(std::string("the source has ") + word(wanted.kind) + " there, the laid page " + word(shown.kind));
  if (wanted.digest != shown.digest) return differ(std::string(word(shown.kind)) + " differs from the source's");
  double const d = off(wanted, shown);
  // The library adds up steps in floats: pages that move their origin bit by bit, thousands of times, drift slowly apart.
  bool const drifts = d <= kMostDrift && d - drift_ <= kDriftStep;
  if (d > kPlaceTolerance + unseen_drift() && !drifts) return differ("lies " + format_number(d, 3) + " pt off");
  drift_ = std::max(drift_, d);
}

bool TraceComparer::is_crop_clip(MarkEntry const& shown) const { return is_clip_to(shown, then(source_.to_seen, placement_).apply(source_.crop)); }

bool TraceComparer::is_clip_to(MarkEntry const& shown, Rect<SheetSpace> const& wanted) const {
  if (shown.kind != Kind::clip || !shown.upright_rectangle) return false;
  auto const& b = shown.bounds;
  auto const placed = matrix_of<SheetSpace>(shown).apply(Rect<DrawnSpace>{b[0], b[1], b[2], b[3]});
  double const noise = 4e-7 * (std::fabs(wanted.x0) + std::fabs(wanted.y0) + std::fabs(wanted.x1) + std::fabs(wanted.y1));
  return placed.contains(wanted, kPlaceTolerance + noise) && wanted.contains(placed, kPlaceTolerance + noise);
}

void TraceComparer::before_cut(MarkEntry const& shown) {
  if (!is_clip_to(shown, placement_.apply(*cut_))) return differ("the clip to the edge of its part of the source is missing or lies elsewhere");
  in_cut_ = true;
  state_ = source_.laid_before ? State::content : State::before_clip;
}

/// Whether it is the end of the clip to the page's part of the source, after which only marks of our own come.
bool TraceComparer::ends_cut(MarkEntry const& shown) {
  if (!in_cut_ || shown.kind != Kind::close) return false;
  in_cut_ = false;
  if (!source_.laid_before) state_ = State::after_cut;
  return true;
}

/// A line or a letter of our own: in its place, and nowhere on the art.
bool TraceComparer::is_beside(MarkEntry const& shown) const {
  if (shown.kind != Kind::mark || !beside_ || !cut_) return false;
  auto const& b = shown.bounds;
  auto const placed = matrix_of<SheetSpace>(shown).apply(Rect<DrawnSpace>{b[0], b[1], b[2], b[3]});
  auto const both = intersection(placed, placement_.apply(*cut_).grown(-kPlaceTolerance));
  return beside_->contains(placed, kPlaceTolerance) && !both;
}

void TraceComparer::before_clip(MarkEntry const& shown) {
  if (shown.kind == Kind::group && source_.has_group && !form_group_ && shown.plain_group && shown.knockout == source_.knocks_out) {
    form_group_ = true;
    return;
  }
  if (!is_crop_clip(shown)) return differ("the clip to the edge of the source's page is missing or lies elsewhere");
  if (source_.has_group && !laid_.has_group && !form_group_) return differ("the group that the source's page is blended in is missing");
  state_ = State::content;
}

void TraceComparer::content(MarkEntry const& shown) {
  // The wrapper's own end: nothing of the content is open any more.
  if (!source_.laid_before && shown.kind == Kind::close && depth_ == 0) {
    if (next_entry().kind != Kind::section) return differ("marks of the source are missing at the end");
    state_ = State::after_content;
    for (auto& blocks : blocks_) blocks = read_blocks();
    return;
  }
  if (shown.kind == Kind::section && !source_.laid_before) return differ("the clip to the edge of the source's page does not end");
  if (depth_ == 0 && ends_cut(shown)) return;
  if (cut_ && !in_cut_ && depth_ == 0 && is_beside(shown)) return;
  auto const wanted = next_entry();
  if (wanted.kind == Kind::section && shown.kind != Kind::section)
    return differ(std::string("the laid page has ") + word(shown.kind) + " more than the source");
  compare(wanted, shown);
  if (shown.kind == Kind::section) {
    state_ = State::after_notes;
    for (auto& blocks : blocks_) blocks = read_blocks();
  }
  depth_ += opens(shown.kind);
  ++index_;
}

void TraceComparer::after_content(MarkEntry const& shown) {
  if (form_group_ && shown.kind == Kind::close) {
    form_group_ = false;
    return;
  }
  if (form_group_) return differ("the source's group does not end");
  depth_ = 0;
  if (ends_cut(shown)) return;
  if (shown.kind == Kind::section) {
    state_ = State::after_notes;
  } else if (is_crop_clip(shown)) {
    state_ = State::notes;
  } else if (shown.kind == Kind::clip) {
    state_ = State::left_clip;
    left_clip(shown);
  } else {
    differ(std::string("the laid page has ") + word(shown.kind) + " more than the source");
  }
}

/// A clip that the source's content leaves unfinished, with nothing under it.
void TraceComparer::left_clip(MarkEntry const& shown) {
  if (shown.kind != Kind::clip && shown.kind != Kind::close)
    return differ(std::string("the laid page has ") + word(shown.kind) + " more than the source");
  depth_ += opens(shown.kind);
  if (depth_ == 0) state_ = State::after_content;
}

/// An empty appearance, one on a layer that does not print (the library still tells its clips), or one that is squeezed to a line.
bool TraceComparer::paints_nothing(Block const& block) {
  return std::ranges::none_of(block, [](MarkEntry const& e) { return e.kind == Kind::mark && !is_flat(e); });
}

/// Each annotation is one form: a clip, maybe in a group, and what is inside. Those that paint nothing need not be there.
std::deque<TraceComparer::Block> TraceComparer::read_blocks() {
  std::deque<Block> blocks;
  int depth = 0;
  for (;;) {
    auto const entry = next_entry();
    if (entry.kind == Kind::section) break;
    if (depth == 0) blocks.emplace_back();
    blocks.back().push_back(entry);
    depth += opens(entry.kind);
  }
  std::erase_if(blocks, paints_nothing);
  return blocks;
}

void TraceComparer::notes(MarkEntry const& shown) {
  if (shown.kind == Kind::close && depth_ == 0) {
    state_ = any_note_ ? State::after_notes : State::after_content;  // the clip may have been one that the content leaves
    return;
  }
  any_note_ = true;
  note_.push_back(shown);
  depth_ += opens(shown.kind);
  if (depth_ == 0) finish_note();
}

/// An appearance in a very narrow box is stretched to its annotation's rectangle, and with it the rounding of where its own matrix moves it:
/// a float's step and some, of about as far as the page is wide. In points; then only its clip, which is that box, tells where it is, for what
/// lies farther out is stretched as well.
double TraceComparer::stretched(MarkEntry const& shown) const {
  double const stretch = std::max(std::hypot(shown.matrix[0], shown.matrix[1]), std::hypot(shown.matrix[2], shown.matrix[3]));
  return has_place(shown.kind) && std::isfinite(stretch) ? 1e-7 * stretch * (source_.crop.width() + source_.crop.height()) : 0;
}

bool TraceComparer::same(Block const& wanted, Block const& shown) const {
  if (wanted.size() != shown.size()) return false;
  for (std::size_t i = 0; i < shown.size(); ++i) {
    if (wanted[i].kind != shown[i].kind || wanted[i].digest != shown[i].digest) return false;
    double const slack = stretched(shown[i]);
    bool const box = shown[i].kind == Kind::clip && std::ranges::none_of(shown.begin(), shown.begin() + static_cast<std::ptrdiff_t>(i),
                                                                         [](auto const& e) { return e.kind == Kind::clip; });
    if ((slack < kMostDrift || box) && off(wanted[i], shown[i]) > kPlaceTolerance + slack) return false;
  }
  return true;
}

/// Whether what is shown lies where the source has an annotation without an appearance of its own.
bool TraceComparer::is_free(Block const& shown) const {
  auto const where = note_extents<SheetSpace>(shown);
  return where &&
         std::any_of(source_.free.begin(), source_.free.end(), [&](auto const& rect) { return placement_.apply(rect).contains(*where, kNoteSlack); });
}

void TraceComparer::finish_note() {
  index_ += static_cast<long>(note_.size());
  bool found = paints_nothing(note_);
  for (auto& kind : blocks_)
    if (!found && !kind.empty() && same(kind.front(), note_)) {
      kind.pop_front();
      found = true;
    }
  // Only then: one that brings its appearance may lie where another, which does not, may be drawn in any way.
  if (!found && !is_free(note_)) differ("an annotation differs from the source's, or lies elsewhere");
  note_.clear();
}

void TraceComparer::mark(MarkEntry const& shown) {
  if (difference_) return;
  switch (state_) {
    case State::before_cut: return before_cut(shown);
    case State::before_clip: return before_clip(shown);
    case State::content: return content(shown);
    case State::after_content: return after_content(shown);
    case State::left_clip: return left_clip(shown);
    case State::notes: return notes(shown);
    case State::after_notes:
      if (shown.kind == Kind::section || ends_cut(shown)) return;
      return differ(std::string("the laid page has ") + word(shown.kind) + " more than the source");
    case State::after_cut:
      if (shown.kind == Kind::section || is_beside(shown)) return;
      differ(std::string("the laid page has ") + word(shown.kind) + " more than the source");
  }
}

void TraceComparer::end_page() {
  if (difference_) return;
  if ((state_ != State::after_notes && state_ != State::after_cut) || in_cut_) return differ("the laid page breaks off");
  for (auto const& blocks : blocks_)
    if (!blocks.empty()) return differ("an annotation of the source is missing");
  unsigned char end = 0;
  if (!take(&end, 1) || end != kPageEnd) differ("the source has more than the laid page shows");
}

}  // namespace layright
