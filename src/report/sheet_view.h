// Where the art of a page comes to lie on the printed sheet, for a picture of both. Values only.
#pragma once
#include <optional>
#include <string>

#include "geometry/length.h"
#include "geometry/matrix.h"
#include "geometry/seen.h"
#include "sheet/target.h"

namespace layright {

struct SheetView {
  Matrix<SeenSpace, SheetSpace> art;  // to the printed sheet, at its true size
  Rect<SheetSpace> ink;               // of the art there; of a blank page all that is seen
  Rect<SheetSpace> frame;             // what the picture shows: the sheet, and the art where it passes its edge
  bool whole = true;                  // false: the art goes on beyond the frame
};

/// `placement`: to the sheet of the file; nothing: it cannot be placed, then it lies in the middle as it came. Whoever reverses after the file is
/// counted in. Art that is many times as large as the sheet is shown as far as kMostSheetsShown sheets go.
SheetView sheet_view(Target const& target, SeenSize const& seen, std::optional<Rect<SeenSpace>> const& ink,
                     std::optional<Matrix<SeenSpace, SheetSpace>> const& placement);
inline constexpr double kMostSheetsShown = 4;

/// "5.17 in": as exact as one measures on goods.
std::string goods_length(double points, Unit unit);

/// "1.5 in past the left and right edges", or empty where the art stays on the sheet.
std::string past_edges(SheetView const& view, Sheet const& sheet, Unit unit);

/// "1 to 2.5 in from the left, 3 to 4 in from the bottom", of the printed sheet.
std::string place_words(Rect<SheetSpace> const& place, Unit unit);

}  // namespace layright
