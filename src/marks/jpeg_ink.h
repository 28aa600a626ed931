// Which pixels of a JPEG leave ink, looked at row after row while it is decoded: a photograph is never held whole for it.
#pragma once
#include <optional>

#include "marks/image_ink.h"

namespace layright {

/// At as many pixels as `matrix` (of its unit square, to pixels that are fine enough) asks for, by halves down to an eighth. Nothing where the
/// picture is no JPEG in plain grey or RGB, or cannot be decoded: the library looks at it then.
std::optional<ImageInk> look_at_jpeg(fz_context* ctx, fz_image* image, fz_matrix const& matrix, InkRule rule, float alpha);

}  // namespace layright
