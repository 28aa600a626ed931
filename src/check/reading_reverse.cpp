// Between file, printer and RIP there must be exactly one reversal.
#include "check/common.h"
#include "check/reading_sentence.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> reading_reverse_findings(PageView const& view) {
  auto const must = reading_of_file(view.target);
  if (!must || !can_be_seen(view.page)) return {};
  if (view.reading.reading != reversed(*must)) return {};
  Finding f{.check = "reading.reverse", .level = Level::fix};
  f.message = reading_sentence(view.reading, view.target);
  f.measured = {{"reading", std::string(word(view.reading.reading))}, {"reading_from", view.reading.from}};
  f.wanted = {{"reading", std::string(word(*must))}};
  return {f};
}

}  // namespace

CheckInfo reading_reverse() {
  return {.id = "reading.reverse",
          .levels = "fix",
          .title = "the page reads the other way than it must",
          .measures = "which way the page reads",
          .limit = "as the printed sheet must read, or the other way where the printer or the RIP still reverses (reading, reverse-at)",
          .source = "common practice, no published source",
          .does_not_cover = "what the printer and the RIP are really set to",
          .explain =
              "The target says how the printed sheet must read and who reverses it. From these follows how the file itself must read: as the "
              "sheet, where nobody reverses after it, or the other way, where the printer or the RIP still will. This page reads the "
              "other way. Printed as it is, it would come out reversed twice, or not at all, which shows only after pressing. `lay` reverses it "
              "across its own vertical axis, once. The message says what the printer and the RIP must be set to.",
          .needs_marks = true,
          .page = reading_reverse_findings,
          .needs_reading = true};
}

}  // namespace layright
