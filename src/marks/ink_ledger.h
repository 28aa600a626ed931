// Keeps the extents of all ink so far, and how sure each side of them is.
#pragma once
#include <array>
#include <optional>
#include <vector>

#include "mupdf/library.h"

namespace layright {

enum Side : unsigned { kLeft = 0, kBottom = 1, kRight = 2, kTop = 3 };
inline constexpr unsigned kAllSides = 0xF;

/// Where a mark leaves ink: its box, and which sides of the box its ink certainly reaches (bit 1 << Side).
struct Extent {
  SeenRect box;
  unsigned sure = kAllSides;
};

inline double side_of(SeenRect const& b, unsigned side) { return side == kLeft ? b.x0 : side == kBottom ? b.y0 : side == kRight ? b.x1 : b.y1; }
/// How far out a side lies: larger is farther, for each side.
inline double outward(SeenRect const& b, unsigned side) { return side < kRight ? -side_of(b, side) : side_of(b, side); }

class InkLedger {
 public:
  /// A mark that leaves ink. `solid`: its box is covered all over.
  void ink(Extent const& extent, bool solid = false);
  /// Something that hides ink without leaving any. Only marks from `since` on lie beneath it (a count as `marks()` gives it).
  void cover(SeenRect const& box, bool solid, long since = 0);
  /// Something was painted here that leaves no ink and hides none.
  void painted(SeenRect const& box);

  /// Whether ink inside `box` could change nothing: it lies inside what is sure, by kMargin.
  bool settled(SeenRect const& box) const { return settled_ && settled_->contains(box); }
  /// Whether anything was painted that touches `box`.
  bool touched(SeenRect const& box) const { return painted_ && intersection(*painted_, box).has_value(); }

  long marks() const { return marks_; }
  /// Around all ink that may show; nothing when there is none.
  std::optional<SeenRect> const& hull() const { return hull_; }
  /// The outermost place that ink certainly reaches on a side; nothing where no mark is sure.
  std::optional<double> sure(unsigned side) const;
  bool is_sure(unsigned side) const;
  /// A box that one mark covers all over, the largest so far.
  std::optional<SeenRect> const& solid() const { return solid_; }
  bool covers_anything() const { return covers_; }

  static constexpr double kMargin = 1.5;  // points
  static constexpr double kSame = 0.02;   // points: closer than this two places are one

 private:
  struct Reason {
    SeenRect box;
    long mark;
  };
  void settle();
  std::optional<SeenRect> hull_, painted_, solid_, settled_;
  std::array<std::vector<Reason>, 4> reasons_;  // per side, the outermost first
  long marks_ = 0;
  bool covers_ = false;
};

}  // namespace layright
