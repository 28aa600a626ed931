// The marks of pages one by one, so that a laid page can be proved to show what its source shows.
//
// A source page is written to a tape while its marks are read: for each mark its kind, a digest of all that comes before the
// current matrix (path, glyphs, image, colours, blend, clip) and that matrix into seen space. The laid page is then read with the
// same tape in comparing state: content streams are untouched, so digests must be equal and matrices must lead to the same places.
//
// What laying adds is known and passed over, and nothing else is: the laid page shows the source's content under one clip to its crop
// box, perhaps inside the source's own group, and, of a page that shows a part of the source only, all of it under one clip to that part; then, under such a clip again, a form for each annotation that prints. The library
// draws annotations kind by kind, the laid page has them in the file's order: each kind must keep its own order.
#pragma once
#include <array>
#include <cstdint>
#include <cstdio>
#include <deque>
#include <optional>
#include <string>
#include <vector>

#include "geometry/matrix.h"
#include "geometry/space.h"
#include "mupdf/page_frame.h"

namespace layright {

/// One thing that a page does.
struct MarkEntry {
  enum class Kind : std::uint8_t { mark, clip, group, tile, mask, close, section } kind = Kind::mark;  // a mask closes twice
  std::uint64_t digest = 0;                                                                            // everything but place; of a close: of nothing
  std::array<float, 6> matrix{1, 0, 0, 1, 0, 0};                                                       // to seen space; inside a pattern, to its cell
  // Not stored, known when compared:
  std::array<float, 4> bounds{0, 0, 0, 0};      // of the mark before that matrix
  bool upright_rectangle = false;               // a clip to `bounds` and nothing else
  bool plain_group = false;                     // isolated, Normal, opaque: what laying may add, where the source's page is blended in a group
  bool knockout = false;                        // of a group
  std::array<float, 2> step{0, 0};              // of a pattern: how far its cells lie apart
  std::array<float, 6> cell{1, 0, 0, 1, 0, 0};  // the matrix to seen space of the cell that this lies in
  bool in_cell = false;
};

class MarkTrace {
 public:
  virtual ~MarkTrace() = default;
  virtual void begin_page(PageFrame const& frame) = 0;
  /// A section entry ends each of four: content, annotations, widgets, annotations that the library leaves out.
  virtual void mark(MarkEntry const& entry) = 0;
  virtual void end_page() = 0;
};

/// Writes pages one after another to `file` (a temporary that nobody else sees; not closed here).
class TraceWriter : public MarkTrace {
 public:
  explicit TraceWriter(std::FILE* file);
  void begin_page(PageFrame const& frame) override;
  void mark(MarkEntry const& entry) override;
  void end_page() override;
  bool failed() const { return failed_; }

 private:
  void put(void const* bytes, std::size_t size);
  void write(MarkEntry const& entry);
  std::FILE* file_;
  std::array<float, 6> last_{};
  void write_notes();
  std::size_t section_ = 0;
  int depth_ = 0;
  std::vector<std::vector<MarkEntry>> notes_;  // of the section in hand
  PageFrame frame_;
  bool failed_ = false;
};

/// Compares pages with what was written, in the same order. `placement` of each page takes the source's seen space to the laid
/// page's seen space. Places agree within kPlaceTolerance points.
class TraceComparer : public MarkTrace {
 public:
  /// `in_form`: a page that was laid is shown as any other, by a form of its own.
  explicit TraceComparer(std::FILE* file, bool in_form = false);
  /// For the next page. `cut`: the part of the source that it shows; nothing: all. `beside`: marks of our own may lie in it, outside that part.
  void expect(Matrix<SeenSpace, SheetSpace> const& placement, std::optional<Rect<SeenSpace>> const& cut = {},
              std::optional<Rect<SheetSpace>> const& beside = {});
  void begin_page(PageFrame const& frame) override;
  void mark(MarkEntry const& entry) override;
  void end_page() override;
  /// The page's own content has ended, with all that laying put around it: what follows is of no page of the tape.
  bool content_over() const { return state_ == State::after_content && !form_group_; }
  /// The first difference so far in plain words ("page 3, mark 17: lies 0.10 pt off"), or nothing.
  std::optional<std::string> difference() const { return difference_; }

 private:
  enum class State { before_cut, before_clip, content, after_content, left_clip, notes, after_notes, after_cut };
  using Block = std::vector<MarkEntry>;
  bool take(void* bytes, std::size_t size);
  /// The next entry of the tape; a section entry at the end of one, also when the tape is broken.
  MarkEntry next_entry();
  std::deque<Block> read_blocks();
  void compare(MarkEntry const& wanted, MarkEntry const& shown);
  double off(MarkEntry const& wanted, MarkEntry const& shown) const;
  double unseen_drift() const;
  double stretched(MarkEntry const& shown) const;
  bool is_crop_clip(MarkEntry const& shown) const;
  bool is_clip_to(MarkEntry const& shown, Rect<SheetSpace> const& wanted) const;
  bool ends_cut(MarkEntry const& shown);
  bool is_beside(MarkEntry const& shown) const;
  bool is_free(Block const& shown) const;
  void before_cut(MarkEntry const& shown);
  void before_clip(MarkEntry const& shown);
  void content(MarkEntry const& shown);
  void after_content(MarkEntry const& shown);
  void left_clip(MarkEntry const& shown);
  void notes(MarkEntry const& shown);
  void finish_note();
  static bool paints_nothing(Block const& block);
  bool same(Block const& wanted, Block const& shown) const;
  void differ(std::string const& how);

  std::FILE* file_;
  bool in_form_;
  Matrix<SeenSpace, SheetSpace> placement_;
  std::optional<Rect<SeenSpace>> cut_;
  std::optional<Rect<SheetSpace>> beside_;
  bool in_cut_ = false;  // under the clip to it
  std::array<float, 6> last_{};
  PageFrame source_, laid_;
  State state_ = State::before_clip;
  bool form_group_ = false;                  // laying put the source's group around the form
  bool any_note_ = false;                    // of the laid page
  int depth_ = 0;                            // of what is open on the laid page inside the wrapper
  std::array<std::deque<Block>, 3> blocks_;  // of each section after the content, what is still to come
  Block note_;
  long index_ = 0;
  double drift_ = 0;  // how far a mark lay off at most, in points
  std::optional<std::string> difference_;
};
inline constexpr double kPlaceTolerance = 0.01;  // points

}  // namespace layright
