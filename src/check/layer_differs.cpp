#include <algorithm>

#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> layer_differs_findings(PageView const& view) {
  if (!view.marks || view.marks->layers.empty()) return {};
  Places places;
  std::vector<std::string> shown, hidden;
  for (auto const& use : view.marks->layers) {
    places.add(use.where);
    auto& names = use.prints ? shown : hidden;
    auto const name = use.name.empty() ? std::string("a combination of layers") : use.name;
    if (std::ranges::find(names, name) == names.end()) names.push_back(name);
  }
  std::string what;
  if (!shown.empty()) what = "what lies on " + names_text(shown) + " prints";
  if (!hidden.empty()) what += (what.empty() ? "what lies on " : ", what lies on ") + names_text(hidden) + " does not";
  return {art_finding("layer.differs", Level::note, places,
                      what +
                          (hidden.empty()  ? ""
                           : shown.empty() ? " print"
                                           : "") +
                          where_text(places, view.unit) +
                          ": so the standard has it, but other programs and printers may do otherwise with this file; look whether it is as meant "
                          "(lay writes a page on which they all do the same)")};
}

}  // namespace

CheckInfo layer_differs() {
  return {.id = "layer.differs",
          .levels = "note",
          .title = "programs differ about what a layer shows",
          .measures = "places on layers that print by the standard and not by simpler rules, or the other way round",
          .limit = "none",
          .source = "ISO 32000-1, 8.11",
          .does_not_cover = "programs that know no layers: to them all layers print",
          .explain =
              "Whether a layer prints can depend on events, on intents, on combinations of layers and on expressions, and a layer can belong to a "
              "form or an annotation as a whole. Many programs know only layers that are on or off, in the content of a page. layright goes by "
              "the standard and tells where others may not. The page that lay writes says the same in the simplest words, so that they agree.",
          .needs_marks = true,
          .page = layer_differs_findings};
}

}  // namespace layright
