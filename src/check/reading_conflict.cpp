#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> reading_conflict_findings(PageView const& view) {
  if (!reading_of_file(view.target) || !can_be_seen(view.page) || view.reading.conflict.empty()) return {};
  Finding f{.check = "reading.conflict", .level = Level::hold};
  f.message = view.reading.conflict +
              "; one of the two is wrong, and a sheet reversed twice or not at all shows only after pressing: "
              "look at the page, then say --incoming as it is, or accept it with --accept reading.conflict";
  f.measured = {{"reading", std::string(word(view.reading.reading))}, {"reading_from", view.reading.from}};
  return {f};
}

}  // namespace

CheckInfo reading_conflict() {
  return {.id = "reading.conflict",
          .levels = "hold",
          .title = "the page contradicts its record or the operator's word",
          .measures = "how the page reads by its text, against its record or --incoming",
          .limit = "no contradiction, where the target asks for a reading (reading)",
          .source = "common practice, no published source",
          .does_not_cover = "targets that ask for no reading",
          .explain =
              "Somebody said that the art comes in right (or wrong), or layright's own record says so, but the page's live text reads the other "
              "way. Perhaps the file was reversed once more in between, perhaps the order was given for another file. Both cannot be true, and "
              "guessing costs a sheet and a garment, so a person must look.",
          .needs_marks = true,
          .page = reading_conflict_findings,
          .needs_reading = true};
}

}  // namespace layright
