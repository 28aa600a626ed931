// Whether marks beside live text could be letters: outlined ones, strokes of a pen, pixels. Cheap, and sooner yes than no.
#pragma once
#include "marks/outline.h"

namespace layright {

class OtherShapes {
 public:
  /// A path that is filled, stroked or clipped to, with where it shows.
  void path(Outline const& outline, SeenRect const& shown);
  /// An upright rectangle, or a level or upright line: letters are made of these only where there are many.
  void bar() { ++bars_; }
  void picture(int width, int height, SeenRect const& shown);
  bool could_be_letters() const;

 private:
  long shapes_ = 0, bars_ = 0, pictures_ = 0;
};

}  // namespace layright
