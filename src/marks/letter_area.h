// Which part of a page letters are looked for in.
#pragma once
#include "marks/marks.h"

namespace layright {

/// Around the ink, which must be there. Wider where pictures cover it and one of its sides is a picture's edge: the paper of a scan then
/// ends before what is looked at does.
Rect<SeenSpace> letter_area(Marks const& marks);

}  // namespace layright
