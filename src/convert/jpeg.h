// JPEG (ITU-T T.81): its data goes into the page as it is; libjpeg tells what is in it, and whether all of it is there.
#pragma once
#include "convert/picture.h"

namespace layright {

Outcome read_jpeg(std::span<std::byte const> bytes, PictureSink& sink);

}  // namespace layright
