#include "check/common.h"
#include "check/reading_sentence.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> reading_mixed_findings(PageView const& view) {
  auto const must = reading_of_file(view.target);
  if (!must || !can_be_seen(view.page) || view.reading.reading != Reading::mixed) return {};
  Finding f{.check = "reading.mixed", .level = Level::hold};
  f.message = reading_sentence(view.reading, view.target);
  for (auto const& where : view.reading.where) f.where = f.where ? united(*f.where, where) : where;
  f.measured = {{"reading", std::string(word(Reading::mixed))}, {"reading_from", view.reading.from}};
  f.wanted = {{"reading", std::string(word(*must))}};
  return {f};
}

}  // namespace

CheckInfo reading_mixed() {
  return {.id = "reading.mixed",
          .levels = "hold",
          .title = "the page reads both ways",
          .measures = "which way the parts of the page read",
          .limit = "one way, where the target asks for a reading (reading)",
          .source = "common practice, no published source",
          .does_not_cover = "a few letters that are reversed as decoration (the reading itself weighs them)",
          .explain =
              "Some of the page's words read right and some are reversed, so whoever reverses it makes one half right and the other wrong. "
              "Usually somebody pasted a piece from an already reversed file. Sometimes it is meant, as in a design with a mirror image: then "
              "say with --incoming which way the main part reads.",
          .needs_marks = true,
          .page = reading_mixed_findings,
          .needs_reading = true};
}

}  // namespace layright
