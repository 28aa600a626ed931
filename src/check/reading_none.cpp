#include "check/reading_sentence.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> reading_none_findings(PageView const& view) { return reading_not_known(view, "reading.none", true); }

}  // namespace

CheckInfo reading_none() {
  return {
      .id = "reading.none",
      .levels = "hold; note where the target takes a reading for granted",
      .title = "nothing on the page looks like letters, so nothing tells which way it reads",
      .measures = "whether anything on the page stands as letters stand",
      .limit = "none, where the target asks for a reading (reading; without-letters says what to take for granted)",
      .source = "common practice, no published source",
      .does_not_cover = "letters that were seen and not understood, and pages that could not be looked at (reading.unknown)",
      .explain =
          "A photograph, a drawing or a symbol without a word in it tells nobody which way it is meant to be seen; mostly it comes as it is meant. "
          "A shop can write without-letters = \"right\" into the target: then such art is taken to read right, and this is only reported. In doubt "
          "layright takes what it sees for letters (reading.unknown). Else a person looks and says --incoming right or --incoming wrong.",
      .needs_marks = true,
      .page = reading_none_findings,
      .needs_reading = true};
}

}  // namespace layright
