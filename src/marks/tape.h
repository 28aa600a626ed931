// The marks of pages one by one, so that a laid page can be proved to show what its source shows.
//
// A source page is written to a tape while its marks are read: for each mark its kind, a digest of all that comes before the
// current matrix (path, glyphs, image, colours, blend, clip) and that matrix into seen space. The laid page is then read with the
// same tape in comparing state: content streams are untouched, so digests must be equal and matrices must lead to the same places.
#pragma once
#include <cstdint>
#include <cstdio>
#include <optional>
#include <string>

#include "geometry/matrix.h"
#include "geometry/space.h"

namespace layright {

struct MarkEntry {
  std::uint64_t digest = 0;  // kind, order and everything but place
  float matrix[6] = {1, 0, 0, 1, 0, 0};  // to seen space
  float bounds[4] = {0, 0, 0, 0};  // of the mark before that matrix; not stored, known when compared
};

class Tape {
 public:
  virtual ~Tape() = default;
  virtual void begin_page(int number) = 0;
  virtual void mark(MarkEntry const& entry) = 0;
  virtual void end_page() = 0;
};

/// Writes pages one after another to `file` (a temporary that nobody else sees; not closed here).
class TapeWriter : public Tape {
 public:
  explicit TapeWriter(std::FILE* file);
  void begin_page(int number) override;
  void mark(MarkEntry const& entry) override;
  void end_page() override;
  bool failed() const;

 private:
  std::FILE* file_;
  float last_[6] = {0, 0, 0, 0, 0, 0};
  bool failed_ = false;
};

/// Compares pages with what was written, in the same order. `placement` of each page takes the source's seen space to the laid
/// page's seen space. Places agree within kPlaceTolerance points.
class TapeComparer : public Tape {
 public:
  explicit TapeComparer(std::FILE* file);
  void expect(Matrix<SeenSpace, SheetSpace> const& placement);  // for the next page
  void begin_page(int number) override;
  void mark(MarkEntry const& entry) override;
  void end_page() override;
  /// The first difference so far in plain words ("page 3, mark 17: lies 0.10 pt off"), or nothing.
  std::optional<std::string> difference() const;

 private:
  std::FILE* file_;
  Matrix<SeenSpace, SheetSpace> placement_;
  float last_[6] = {0, 0, 0, 0, 0, 0};
  int page_ = 0;
  long index_ = 0;
  std::optional<std::string> difference_;
};
inline constexpr double kPlaceTolerance = 0.01;  // points

}  // namespace layright
