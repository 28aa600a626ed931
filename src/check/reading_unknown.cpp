// A transfer is printed reversed so that it reads right on the goods.
#include "check/common.h"
#include "check/reading_sentence.h"
#include "check/rows.h"

namespace layright {

std::vector<Finding> reading_not_known(PageView const& view, std::string_view id, bool without_letters) {
  auto const must = reading_of_file(view.target);
  if (!must || !can_be_seen(view.page)) return {};
  bool const blank = view.marks && view.marks->whole && !view.marks->ink;
  if (blank || (view.reading.reading != Reading::unknown && view.reading.from != "assumed")) return {};
  if ((view.reading.letters == LettersSeen::none) != without_letters) return {};
  Finding f{.check = std::string(id), .level = view.reading.from == "assumed" ? Level::note : Level::hold};
  f.message = reading_sentence(view.reading, view.target);
  for (auto const& line : view.reading.lines)
    if (f.places.size() < kMostArtPlaces && !without_letters) f.places.push_back(line.where);
  f.measured = {{"reading", std::string(word(view.reading.reading))}, {"reading_from", view.reading.from}};
  f.wanted = {{"reading", std::string(word(*must))}};
  return {f};
}

namespace {

std::vector<Finding> reading_unknown_findings(PageView const& view) { return reading_not_known(view, "reading.unknown", false); }

}  // namespace

CheckInfo reading_unknown() {
  return {.id = "reading.unknown",
          .levels = "hold; note where the target takes a reading for granted",
          .title = "letters were seen, and which way the page reads is not understood",
          .measures = "which way the page reads, by its record, the operator's word, its live text or its letters",
          .limit = "known, where the target asks for a reading (reading; unknown-reads says what to take for granted)",
          .source = "common practice, no published source",
          .does_not_cover = "blank pages, which read neither way (ink.blank); pages on which nothing looks like letters (reading.none)",
          .explain =
              "Transfers are printed reversed so that they read right on the goods, and exactly one of the file, the printer and the RIP must do "
              "it. To keep that count layright must know which way the art reads now. Live text and letters tell; a word such as AVA does not, nor "
              "do letters in a face or script that cannot be read, and live text beside more of those does not decide for them. Then a person must "
              "look at the lines that are marked and say --incoming right or --incoming wrong. A shop whose art always comes in one way can write "
              "unknown-reads into the target; then this is only reported. What holds nothing like letters is reported as reading.none.",
          .needs_marks = true,
          .page = reading_unknown_findings,
          .needs_reading = true};
}

}  // namespace layright
