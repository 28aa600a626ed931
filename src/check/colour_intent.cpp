#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> colour_intent_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art || !view.file) return {};
  int components = 0;
  std::string trouble;
  for (OutputIntent const& intent : view.file->intents) {
    if (!intent.profile) continue;
    if (!intent.profile->trouble.empty()) trouble = "the profile of its output intent is damaged: " + intent.profile->trouble;
    else if (components != 0 && components != intent.profile->components) trouble = "it has output intents of different kinds";
    components = intent.profile->components;
  }
  auto const shows = [&](std::string_view space) { return std::ranges::any_of(art->colours, [&](ColourNote const& c) { return c.space == space; }); };
  if (trouble.empty() && components == 4 && shows("rgb") && !shows("cmyk") && !shows("inks"))
    trouble = "its output intent is for CMYK, and all colors of this page are RGB";
  if (trouble.empty() && components == 3 && shows("cmyk") && !shows("rgb"))
    trouble = "its output intent is for RGB, and all colors of this page are CMYK";
  if (trouble.empty()) return {};
  return {
      Finding{.check = "colour.intent",
              .level = Level::note,
              .message = "what the file says it was made for does not hold: " + trouble + "; look at the colors of a print before the film is used"}};
}

}  // namespace

CheckInfo colour_intent() {
  return {.id = "colour.intent",
          .levels = "note",
          .title = "the file says twice, or not at all, what it was made for",
          .measures = "output intents with their profiles, against each other and against the colors that marks show in",
          .limit = "none",
          .source = "ISO 32000-1, 14.11.5; ISO 15930 (PDF/X) as far as ISO 32000-1 cites it",
          .does_not_cover = "whether the intent suits the press",
          .explain =
              "An output intent names the printing condition that the colors of a file were made for. Reported is what contradicts itself: "
              "intents with profiles of different kinds, a profile that cannot be read, or an intent for inks (CMYK) in a file whose "
              "marks are all in red, green and blue, or the reverse. Most files have none, and that is no trouble.",
          .needs_marks = true,
          .page = colour_intent_findings,
          .needs_art = true};
}

}  // namespace layright
