// Annotations that bring no appearance, by their kind (ISO 32000-1, Table 169).
#pragma once
#include <algorithm>
#include <array>
#include <string_view>

namespace layright {

/// Kinds whose shape the standard tells by lines and colours (12.5.6.7, 12.5.6.8, 12.5.6.10, 12.5.6.13): where a colour is given, src/write
/// draws them, as MuPDF, poppler and Ghostscript all do. Of all others, but a link's border and a form's fields, each program makes up a
/// picture of its own or shows none, and none is drawn. Nor is an attachment's
/// pin, whatever it brings. `kind` without its slash.
constexpr bool has_a_shape(std::string_view kind) {
  constexpr std::array<std::string_view, 10> kinds{"Square", "Circle",    "Line",     "PolyLine",  "Polygon",
                                                   "Ink",    "Highlight", "Squiggly", "Underline", "StrikeOut"};
  return std::ranges::find(kinds, kind) != kinds.end();
}

}  // namespace layright
