// What the children of a lay job do. Beside check_work's messages: 'q' a page that is laid: a PageProof and what 'p' has,
// 'r' why a page is refused, 'k' still writing, 'w' written whole, 'i' writing failed (why), 'v' proved, 'd' a difference.
#pragma once
#include <cstdint>
#include <cstdio>
#include <vector>

#include "job/check_work.h"

namespace layright {

/// Reads the chosen pages onto `tape` (may be null) and, when none is refused, writes the laid file to `output`.
void lay_file(CheckWork const& work, std::FILE* tape, int output, Sender const& sender);

/// What the proof of a page needs: how it was placed, from what is seen of the source, and where its marks begin on the tape.
struct PageProof {
  Matrix<SeenSpace, SheetSpace> placement;
  long tape_offset = 0;
  std::uint64_t trouble = 0;  // what kept the source from being read wholly, as a number; 0: nothing. A person has accepted that
};

/// Pages `first` to `last` (from 1) of the laid file behind `output`, read afresh and compared with the tape.
struct ProofPart {
  int output = -1, tape = -1;       // descriptors
  std::vector<PageProof> const* pages = nullptr;  // of the whole file
  int first = 1, last = 1;
};
void verify_laid(ProofPart const& part, InspectWish const& wish, Sender const& sender);

}  // namespace layright
