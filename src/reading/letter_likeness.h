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
  bool bar = false;      // one blob that is not of strokes
};
LineLikeness likeness_of(LetterLine const& line, BlobMap const& map);
/// Of strokes rather than a patch or a bar: the blob fills little of its extents, and most rows cross it more than once.
bool of_strokes(int blob, BlobMap const& map);
/// Whether a person would take it for letters at first sight. When in doubt it does.
bool looks_like_letters(LineLikeness const& likeness);

}  // namespace layright
