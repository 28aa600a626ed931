// What the children of a lay job do: read the pages and write the laid file, then read that back.
#pragma once
#include <cstdio>
#include <vector>

#include "job/check_work.h"
#include "job/messages.h"
#include "job/tile_work.h"

namespace layright {

/// Reads the chosen pages onto `tape` (may be null) and, when none is refused, writes the laid file to `output`. `tiling`: each page is parted over
/// as many sheets as it takes; nothing: each has its one sheet.
void lay_file(CheckWork const& work, std::optional<Tiling> const& tiling, std::FILE* tape, int output, Sender const& sender);

/// Pages `first` to `last` (from 1) of the laid file behind `output`, read afresh and compared with the tape.
struct ProofPart {
  int output = -1, tape = -1;                        // descriptors
  std::vector<Verification> const* pages = nullptr;  // of the whole file
  int first = 1, last = 1;
};
void verify_laid(ProofPart const& part, InspectOptions const& options, Sender const& sender);

/// Whether a page of a laid file is the sheet, with a record that holds.
bool is_the_sheet(Page const& page, Rect<SheetSpace> const& sheet);

}  // namespace layright
