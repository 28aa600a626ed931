#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

constexpr std::size_t kMostNames = 10;  // told by name; a person reads no more

std::vector<Finding> layer_hidden_findings(FileView const& view) {
  auto names = view.document.layers_not_printing();
  if (names.empty()) return {};
  Finding f{.check = "layer.hidden", .level = Level::note};
  long const count = static_cast<long>(names.size());
  if (names.size() > kMostNames) {
    names.resize(kMostNames);
    names.push_back(std::to_string(count - static_cast<long>(kMostNames)) + " more");
  }
  f.message = counted(count, "layer does", "layers do") + " not print: " + joined(names) + "; if " + (count == 1 ? "it" : "one") +
              " should, switch it on for printing in the program that made the file";
  f.measured = {{"count", static_cast<double>(count)}};
  f.wanted = {{"count", 0.0}};
  return {f};
}

}  // namespace

CheckInfo layer_hidden() {
  return {.id = "layer.hidden",
          .levels = "note",
          .title = "layers do not print",
          .measures = "layers (optional content) that are off when the file is printed, counted",
          .limit = "none",
          .source = "ISO 32000-1, 8.11.4.3 to 8.11.4.5",
          .does_not_cover = "whether a layer holds anything",
          .explain =
              "A layer can be on or off, and can be shown on the screen but not printed, or the other way round. layright goes by what "
              "prints. Guides, templates and earlier drafts are often kept on hidden layers, which is well; but now and then the art itself "
              "is on a layer that somebody switched off.",
          .file = layer_hidden_findings};
}

}  // namespace layright
