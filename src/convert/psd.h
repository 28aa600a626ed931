// Layered pictures (PSD, and PSB for large ones), by their published file-format specification: the merged picture, never the layers.
#pragma once
#include "convert/picture.h"

namespace layright {

Outcome read_psd(std::span<std::byte const> bytes, PictureSink& sink);

}  // namespace layright
