// What Exif says about a picture that matters on paper: how it is turned and how dense it is (Exif 2.3, 4.6.4; TIFF 6.0, section 8).
#pragma once
#include <cstddef>
#include <span>

namespace layright {

struct ExifFacts {
  int orientation = 1;
  double along = 0, down = 0;  // pixels to the inch; 0: none
};
/// `bytes` begin with the byte order of the TIFF header, with or without "Exif\0\0" before it. What cannot be read says nothing.
ExifFacts read_exif(std::span<std::byte const> bytes);

}  // namespace layright
