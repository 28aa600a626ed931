// An SVG file before it is drawn: unpacked, and looked through for what it wants from elsewhere.
#pragma once
#include <span>
#include <string>
#include <vector>

#include "base/result.h"

namespace layright {

struct SvgSource {
  std::string text;                           // unpacked, and written anew as UTF-8 (svg_scan.h)
  std::vector<std::string> outside;           // files and addresses that it asks for, the first few
  std::vector<std::string> damaged;           // of pictures embedded in it: why each cannot be shown, the first few …
  std::vector<std::string> not_drawn;         // … and of those of a kind that is not drawn
  std::vector<std::string> families;          // of fonts that its text asks for, the first few
  std::vector<std::string> not_drawn_styles;  // style sheets that came as an address of their own, and are not drawn by
  std::size_t plain_pictures = 0;             // different ones, embedded in it, that are surely in sight: so many are drawn at least
  bool sized = false;                         // its root says how large it is: width and height, or a viewBox
};
/// Errors: data (cut short, damaged), hold (unpacks to more than `most` bytes), usage (packed, and no SVG inside).
Result<SvgSource> read_svg_source(std::span<std::byte const> bytes, std::size_t most);

}  // namespace layright
