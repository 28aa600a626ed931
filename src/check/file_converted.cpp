#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> file_converted_findings(SourceView const& view) {
  std::vector<Finding> findings;
  for (auto const& remark : view.source.remarks) {
    bool const left_out = remark.kind == ConversionNote::Kind::left_out;
    if (left_out || remark.kind == ConversionNote::Kind::reported)
      findings.push_back({.check = "file.converted", .level = left_out ? Level::hold : Level::note, .message = remark.text});
  }
  return findings;
}

}  // namespace

CheckInfo file_converted() {
  return {.id = "file.converted",
          .levels = "note; hold where something of it was left out",
          .title = "what happened to a file that is no PDF on its way to pages",
          .measures = "where its size comes from, what was taken of it, what could not be",
          .limit = "nothing left out",
          .source = "Adobe Technical Note 5001; W3C SVG 2 and CSS Values and Units 3, 6.2; else our own",
          .does_not_cover =
              "density (picture.density), mirrored pictures (picture.turned), "
              "transparency (picture.alpha), damage (file.damaged)",
          .explain =
              "Pictures and drawings of other formats become pages in memory before they are looked at; the file itself is never changed. What "
              "a person should know of that is reported here: that a page was made around the ink because the file gives no size, that only the "
              "first of several moving pictures was taken, that a profile did not belong to the picture. A drawing that asks for files or "
              "addresses outside of itself is held, for those are never fetched and the art would lack them: ask for it with everything "
              "embedded.",
          .source_check = file_converted_findings};
}

}  // namespace layright
