#include "check/art.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> colour_profile_findings(PageView const& view) {
  if (!view.structure) return {};
  Places damaged;
  std::string first;
  for (ProfileEntry const& p : view.structure->profiles) {
    if (p.trouble.empty()) continue;
    ++damaged.count;
    if (first.empty()) first = (p.name.empty() ? std::string() : p.name + ": ") + p.trouble;
  }
  if (damaged.count == 0) return {};
  auto f = art_finding("colour.profile", Level::note, damaged,
                       counted(damaged.count, "color profile is", "color profiles are") + " damaged or " + (damaged.count == 1 ? "does" : "do") +
                           " not fit (" + first + "): readers will differ in the colors they show; have the file saved again");
  f.wanted = {{"count", 0.0}};
  return {f};
}

}  // namespace

CheckInfo colour_profile() {
  return {.id = "colour.profile",
          .levels = "note",
          .title = "a color profile is damaged or does not fit",
          .measures = "the header of each color profile that the page names",
          .limit = "none",
          .source = "ICC.1:2022, 7.2 (profile header); ISO 32000-1, 8.6.5.5",
          .does_not_cover = "whether a sound profile is the right one",
          .explain =
              "A profile tells which color the numbers of a file mean. A damaged one is passed over in different ways by different "
              "readers, so colors come out one way on the screen and another way on the press. Have the file saved again, or look at a "
              "print.",
          .needs_marks = true,
          .page = colour_profile_findings,
          .needs_art = true};
}

}  // namespace layright
