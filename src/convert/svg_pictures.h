// Pictures that a drawing has in itself (RFC 2397). The program that draws it leaves out in silence what it cannot show, so each is looked at
// before.
#pragma once
#include <string>
#include <string_view>

namespace layright {

struct EmbeddedPicture {
  enum class Fate { drawn, damaged, not_drawn } fate = Fate::drawn;
  bool raster = false;      // pixels, not a drawing in a drawing
  std::string why{};        // of what is not drawn: goes on from "a picture that is embedded in it"
  std::string_view said{};  // the kind that it says it is, a part of the address …
  std::string meant{};      // … and what to put there, where that is wrong and it would not be drawn for it; else empty
};

/// `address`: what an image's href says, such as "data:image/png;base64,…", as it stands in the file.
EmbeddedPicture look_at_embedded(std::string_view address);

}  // namespace layright
