// How strong the strongest separation of a colour is: what a press lays of it, however light it looks.
#pragma once
#include "mupdf/library.h"

namespace layright {

/// From 0 to 1; `rgb` is the same colour as the library converts it. Nothing for what paints on no separation at all (None, ISO 32000-1,
/// 8.6.6.4): it neither leaves ink nor hides any.
std::optional<float> strongest_tint(fz_context* ctx, fz_colorspace* space, float const* values, Rgb rgb);

}  // namespace layright
