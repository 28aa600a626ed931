// Decides by a rendering the sides of the ink that marks alone cannot tell.
#pragma once
#include <optional>

#include "marks/ink_ledger.h"
#include "raster/paper.h"

namespace layright {

struct DecidedInk {
  std::optional<SeenRect> ink;
  int sides = 0;      // how many were decided by a picture
  bool drawn = true;  // false: the library could not draw; what marks say at most then stands
};

/// `matrix` is what the page ran with; `limit` is what is seen; `noisy`: pictures on it have noise in their white. Draws only the strips between what is sure and what may be.
DecidedInk decide_sides(fz_context* ctx, pdf_page* page, fz_matrix matrix, InkLedger const& ledger, SeenRect const& limit, InkRule rule, bool noisy,
                        fz_cookie& cookie);

}  // namespace layright
