#include "sheet/sheet.h"

namespace layright {

Outcome check_margins(Sheet const& sheet, Unit unit) {
  auto const page = sheet.page();
  auto const across = sheet.margins.left + sheet.margins.right, along = sheet.margins.bottom + sheet.margins.top;
  auto const too_much = [&](std::string const& which, Length margins, double side) {
    return Error{ErrorKind::usage, "the " + which + " margins take " + format_length(margins, unit) + " of " +
                                       format_length(Length::points(side), unit) + " and leave no room for ink; make them smaller"};
  };
  for (auto const margin : {sheet.margins.left, sheet.margins.bottom, sheet.margins.right, sheet.margins.top})
    if (!(margin >= Length())) return Error{ErrorKind::usage, "the margin " + format_length(margin, unit) + " is below zero"};
  if (across.in_points() >= page.width()) return too_much("left and right", across, page.width());
  if (along.in_points() >= page.height()) return too_much("bottom and top", along, page.height());
  return done();
}

}  // namespace layright
