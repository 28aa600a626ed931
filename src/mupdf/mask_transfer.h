// Soft masks with a transfer function (ISO 32000-1, 11.6.5.2), which the library passes over: one is made anew as a mask without, of which
// the library draws the same.
#pragma once
#include <array>

#include "mupdf/library.h"

namespace layright {

struct MaskToTransfer {
  pdf_obj* group;  // the form that is the mask
  bool luminosity;
  float backdrop;  // the luminosity of what lies around the group
  std::array<unsigned char, 256> curve;
};

/// The form of a luminosity mask in gray; the caller drops it. Outside of its box it is curve[backdrop]. Null where the library failed.
pdf_obj* transferred_mask(fz_context* ctx, pdf_document* document, MaskToTransfer const& mask);

}  // namespace layright
