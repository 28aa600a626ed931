// How the parts of art that goes over several sheets lie on the goods.
#pragma once
#include <string>
#include <vector>

#include "geometry/length.h"
#include "report/proof.h"

namespace layright {

struct AssemblyPart {
  Rect<SeenSpace> between_cuts;  // in the space that the picture shows
  int number = 1;
};

/// One page as it lies on the goods.
struct AssemblyPage {
  std::string file;  // as it may be shown
  int number = 1;
  double scale = 1;       // printed, of what is seen
  bool mirrored = false;  // the goods show what is seen mirrored
  double overlap = 0;     // points on the goods
  Rect<SeenSpace> art;    // all parts together
  std::vector<AssemblyPart> parts;
  PagePicture picture;  // all that is seen; empty where it could not be drawn
};

struct Assembly {
  ProofForm form = ProofForm::png;
  Unit unit = Unit::inch;
  std::vector<AssemblyPage> pages;  // PNG and SVG: one
};

/// Its bytes, by the module of the proof. Errors (internal): the module is missing, or the picture could not be made.
Result<std::string> make_assembly(Assembly const& assembly);

}  // namespace layright
