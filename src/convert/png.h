// PNG (W3C PNG, second edition): its data goes into the page as it is where PDF can say the same; libpng, in a module, reads the others.
#pragma once
#include "convert/picture.h"

namespace layright {

/// `by_library` reads what PDF cannot take as it is: transparency and interlacing. It may be null: then an Error (internal).
Outcome read_png(std::span<std::byte const> bytes, PictureSink& sink, ReadPictures by_library);

/// What its chunks say, checked against their sums; also for the module, which has it from here.
struct PngFacts {
  Picture picture;
  bool as_it_is = false;                         // no transparency, not interlaced
  std::vector<std::span<std::byte const>> data;  // of its IDAT chunks
  bool lost_profile = false;                     // its profile cannot be unpacked, or is larger than any profile
  bool moves = false;                            // an animation; its first picture is what is shown
};
Result<PngFacts> png_facts(std::span<std::byte const> bytes);

}  // namespace layright
