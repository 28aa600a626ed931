#include "base/in_quotes.h"
#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> text_outlined_findings(PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art || view.reading.from != "letters" || art->texts > 0 || art->paths == 0) return {};
  Places place;
  if (view.marks->ink) place.add(*view.marks->ink);
  std::string words;
  for (auto const& word : view.reading.words) words += (words.empty() ? "" : " ") + word;
  return {art_finding("text.outlined", Level::note, place,
                      "the words " + in_quotes(words) +
                          " are outlines: no font is needed, but no word can be changed here; ask for the file with its text if one is misspelt")};
}

}  // namespace

CheckInfo text_outlined() {
  return {.id = "text.outlined",
          .levels = "note",
          .title = "the words are outlines only",
          .measures = "letters that were found among the paths of a page without text",
          .limit = "none",
          .source = "common practice, no published source",
          .does_not_cover =
              "words that nobody had to look for, because a person or the record said so "
              "how the page reads; pages that are pictures (page.scan)",
          .explain =
              "Text that was turned into outlines prints as it looks, whatever fonts a press has, so it is welcome. But nobody can fix a word "
              "in it, and no check of fonts or of the size of text sees it: what is small is only reported by the checks of ink. Reported where the "
              "letters were looked for, which is where nothing else says how the page reads.",
          .needs_marks = true,
          .page = text_outlined_findings,
          .needs_art = true};
}

}  // namespace layright
