// What a PostScript file says of itself in its comments (Adobe Technical Notes 5001, DSC 3.0, and 5002, EPSF 3.0): nothing is carried out.
#pragma once
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "geometry/rect.h"
#include "geometry/space.h"

namespace layright {

struct DscFacts {
  std::size_t from = 0, length = 0;  // where the PostScript lies: without a binary header, previews and a printer's job language
  bool eps = false;
  std::optional<Rect<PageSpace>> box;    // %%HiResBoundingBox, else %%BoundingBox; points
  std::optional<Rect<PageSpace>> media;  // %%DocumentMedia, else %%PageMedia's first: from 0, 0
  bool ends = false;                     // it comes to an end of its own: %%EOF, or an operator that programs end with
  std::vector<std::size_t> no_boxes;     // where, counted from `from`, lines begin that announce a box without giving one, such as "(atend)"
  std::string plates;                    // DCS: the comment that names files with separated colours, empty where there is none
};
/// Error (data) when a header points outside of the file.
Result<DscFacts> read_dsc(std::span<std::byte const> bytes);

}  // namespace layright
