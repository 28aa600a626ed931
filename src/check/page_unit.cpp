#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> page_unit_findings(PageView const& view) {
  double const unit = view.page.user_unit;
  if (unit == 1) return {};
  Finding f{.check = "page.unit", .level = Level::fix};
  f.message = "the page is meant to be " + format_number(unit, 4) +
              " times the size that its numbers say (UserUnit), which some "
              "printers pass over; `lay` writes it at its true size, with the usual unit";
  f.measured = {{"user_unit_pt", unit}};
  f.wanted = {{"user_unit_pt", 1.0}};
  return {f};
}

}  // namespace

CheckInfo page_unit() {
  return {.id = "page.unit",
          .levels = "fix",
          .title = "the page counts in a unit of its own",
          .measures = "the page's UserUnit, in points",
          .limit = "1 pt (1/72 in)",
          .source = "ISO 32000-1, Table 30 (UserUnit)",
          .does_not_cover = "a UserUnit that is no number above 0 (page.boxes)",
          .explain =
              "The numbers in a page are points, 72 to the inch, unless the page says that its unit is larger or smaller. Large-format "
              "programs do that to get beyond 200 inches. Some readers and printers do not know the setting, and print the page at the wrong "
              "scale. layright applies it wherever it measures, and `lay` writes the page at its true size without it.",
          .page = page_unit_findings};
}

}  // namespace layright
