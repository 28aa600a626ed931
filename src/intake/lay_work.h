// What the children of a lay job do. Beside check_work's messages: 'q' a page's matrix from what is seen to the sheet (six doubles),
// 'r' why a page is refused, 'k' still writing, 'w' written whole, 'i' writing failed (why), 'v' proved, 'd' a difference.
#pragma once
#include <cstdio>
#include <vector>

#include "intake/check_work.h"

namespace layright {

/// Reads the chosen pages onto `tape` (may be null) and, when none is refused, writes the laid file to `output`.
void lay_file(CheckWork const& work, std::FILE* tape, int output, Sender const& sender);

/// Reads the laid file behind `output` afresh and compares it with the tape, page by page.
void verify_laid(int output, std::FILE* tape, std::vector<Matrix<SeenSpace, SheetSpace>> const& placements, InspectWish const& wish,
                 Sender const& sender);

}  // namespace layright
