// How much a row of blobs looks like letters by its shapes alone, where the engine can make nothing of it: scripts that it does not know,
// faces that it cannot read.
#pragma once
#include "reading/letter_lines.h"

namespace layright {

struct LineLikeness {
  std::size_t blobs = 0;
  double aligned = 0;    // share of the blobs that stand on one line, or hang from one
  double heights = 0;    // share of the blobs whose height is one of the two commonest
  bool pattern = false;  // nearly all blobs are one and the same: dots, beads, tiles
};
LineLikeness likeness_of(LetterLine const& line, BlobMap const& map);
/// Whether a person would take it for letters at first sight. When in doubt it does.
bool looks_like_letters(LineLikeness const& likeness);

}  // namespace layright
