// JPEG (ITU-T T.81): its data goes into the page as it is; only its markers are read.
#pragma once
#include "convert/picture.h"

namespace layright {

Outcome read_jpeg(std::span<std::byte const> bytes, PictureSink& sink);

/// What the markers say; for JPEG inside other formats as well.
struct JpegFacts {
  Picture picture;
  bool adobe = false;      // it has Adobe's marker (T.872, 6.5.3), whose four-colour data is inverted
  int transform = -1;      // that marker's colour transform; -1: none
  std::string filter;      // entries of the stream's dictionary
  std::size_t length = 0;  // up to and with the marker that ends it
};
Result<JpegFacts> jpeg_facts(std::span<std::byte const> bytes);

}  // namespace layright
