#include "setup/blank_edges.h"

#include "place/correction.h"

namespace layright {
namespace {
constexpr double kNoise = 0.01;  // points: libcups keeps sizes as float
}

void report_blank_edges(Target const& target, Rect<SheetSpace> const& printable, std::optional<Rect<SheetSpace>> const& ink, std::string const& says,
                        Unit unit, std::vector<Finding>& findings) {
  auto const live = live_area_at_press(target);
  auto const page = target.sheet.page();
  if (printable.contains(live, kNoise)) return;
  std::string sides;
  auto const side = [&](char const* name, double printer, double sheet) {
    if (printer <= sheet + kNoise) return;
    sides += (sides.empty() ? "" : ", ") + std::string(name) + " " + format_length(Length::points(printer), unit);
  };
  side("left", printable.x0, live.x0);
  side("bottom", printable.y0, live.y0);
  side("right", page.x1 - printable.x1, page.x1 - live.x1);
  side("top", page.y1 - printable.y1, page.y1 - live.y1);
  bool const lost = ink && !printable.contains(at_press(target, *ink), kNoise);
  Finding finding;
  finding.check = "press.margin";
  finding.level = lost ? Level::hold : Level::note;
  finding.message = "the press leaves more blank than the sheet's live area allows for (" + sides + (says.empty() ? "" : "; " + says) +
                    (lost ? "), and ink of this job would be lost there: lay it with wider margins" : "); ink that lies there would be lost");
  findings.push_back(std::move(finding));
}

}  // namespace layright
