// What lies beneath a mark when it is painted: the flat colours that it may be painted on, in drawing order. For text, which says nothing
// of how a page reads where nobody can tell it from its ground.
#pragma once
#include <cstddef>
#include <deque>
#include <optional>

#include "mupdf/library.h"

namespace layright {

class Grounds {
 public:
  /// Something was painted: `solid` all over `where`, which is exact, at full strength, in one colour. Nothing: in colours that are not known.
  void paint(SeenRect const& where, bool solid, std::optional<Rgb> color);
  /// Whether what is painted over `where` at `opacity` surely stands out from all that can lie beneath. On `paper` that is white; else
  /// there is nothing, from which everything stands out.
  bool stands_out(SeenRect const& where, Rgb color, float opacity, bool paper) const;

 private:
  struct Ground {
    SeenRect where;
    bool solid;
    std::optional<Rgb> color;
  };
  std::deque<Ground> grounds_;         // the last kMostGrounds
  std::optional<SeenRect> forgotten_;  // around those before them
};

/// How far two colours must be apart in one channel, of 1, so that what is written is seen: a third more than the steps that print loses at
/// its light end (ISO 12647-2 asks for tints from 3 %); faint text of a tenth counts as not seen. Our own choice.
inline constexpr float kStandsOut = 0.12F;

}  // namespace layright
