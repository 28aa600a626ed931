// The clips that marks lie under. The library's own scissor is wrong inside tiles, and its boxes are too large.
#pragma once
#include <memory>
#include <optional>
#include <vector>

#include "marks/ink_ledger.h"
#include "marks/polygon.h"

namespace layright {

/// Everything that lies between a mark and the page.
struct Clip {
  enum class Kind { base, clip, group, mask } kind = Kind::base;
  SeenRect bounds{-1e9, -1e9, 1e9, 1e9};  // nothing shows outside
  bool empty = false;                     // nothing shows at all
  bool upright = true;                    // all clips so far are upright rectangles: all shows inside
  bool exact = true;                      // what is clipped to reaches each side of `bounds`
  std::shared_ptr<Polygon const> region;  // the one clip that is no upright rectangle; null where there is none, or more
  float alpha = 1;
  bool darkens = false;         // a group that only darkens what lies beneath
  bool blends = false;          // a group that mixes with what lies beneath in some other way
  long since = 0;               // marks before this one lie beneath that group
  void const* image = nullptr;  // the picture that masks, where a picture does (for comparing only)
};

class ClipStack {
 public:
  ClipStack() { stack_.emplace_back(); }
  Clip const& top() const { return stack_.back(); }
  std::size_t depth() const { return stack_.size(); }

  void push_box(SeenRect const& box, void const* image = nullptr);
  /// A clip path: its exact extents, and the region where it is no upright rectangle.
  void push_region(std::shared_ptr<Polygon const> region);
  /// A clip known only by its extents (text, strokes, pictures); nothing: it hides all.
  void push_shape(std::optional<SeenRect> const& extents, void const* image = nullptr);
  /// A soft mask that may fade anywhere inside its extents.
  void push_fading(std::optional<SeenRect> const& extents);
  void push_group(float alpha, bool darkens, bool blends, long since);
  /// Starts afresh, as for what a tile or a mask is made of; alpha stays.
  void push_base();
  void pop();
  /// Takes the innermost entry off for a while: a picture's own mask is looked at together with the picture.
  Clip lift();
  void put_back(Clip clip) { stack_.push_back(std::move(clip)); }

 private:
  Clip next(Clip::Kind kind) const;
  std::vector<Clip> stack_;
};

}  // namespace layright
