// Adds up flat marks that are too faint to be ink by themselves: ten tints of 0.4 % on each other are one of 4 %.
#pragma once
#include <optional>
#include <vector>

#include "mupdf/library.h"

namespace layright {

class FaintSum {
 public:
  /// Where the sum comes to be ink with this mark of `tint`, which covers all of `box`; nothing where it does not.
  std::optional<SeenRect> add(SeenRect const& box, float tint);
  /// Something hides what lies in `box`.
  void cover(SeenRect const& box);

 private:
  struct Part {
    SeenRect box;
    float tint;
  };
  std::vector<Part> parts_;  // each with the sum of all marks that cover all of it; at most kMostParts
};

}  // namespace layright
