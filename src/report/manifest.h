// Which piece of which page lies on which sheet, for programs that cut or count them.
#pragma once
#include <string>
#include <vector>

#include "geometry/matrix.h"
#include "geometry/space.h"

namespace layright {

struct ManifestPiece {
  std::string path;  // of the source, as the person wrote it
  int page = 1;
  std::string sha256;  // of the source
  int copy = 1, of = 1;
  int sheet = 1;                         // from 1
  Matrix<SeenSpace, SheetSpace> matrix;  // from the source as seen
  Rect<SheetSpace> cut_box;
};

struct Manifest {
  int sheets = 0, bound = 0;  // no arrangement needs fewer than `bound`
  std::vector<ManifestPiece> pieces;
};

/// {"sheets": …, "bound": …, "pieces": […]}, with a line end.
std::string manifest_text(Manifest const& manifest);
/// The same keys, to stand in another object.
std::string manifest_members(Manifest const& manifest);
/// "3 sheets; no arrangement needs fewer than 3".
std::string sheets_words(Manifest const& manifest);

}  // namespace layright
