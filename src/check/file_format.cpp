#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

std::vector<Finding> file_format_findings(SourceView const& view) {
  std::vector<Finding> findings;
  for (auto const& remark : view.source.remarks)
    if (remark.kind == ConversionNote::Kind::refused) findings.push_back({.check = "file.format", .level = Level::hold, .message = remark.text});
  auto const ending = misleading_ending(view.source.name, view.source.format);
  if (view.source.format == Format::none || view.source.format == Format::refused || ending.empty()) return findings;
  Finding f{.check = "file.format", .level = Level::note};
  f.message = "its name ends in ." + ending + ", but it is " + std::string(info_of(view.source.format).title) + " and is taken as that";
  f.measured = {{"format", std::string(word(view.source.format))}};
  f.wanted = {{"ending", ending}};
  findings.push_back(std::move(f));
  return findings;
}

}  // namespace

CheckInfo file_format() {
  return {.id = "file.format",
          .levels = "note where its name promises another format; hold where the format is not taken",
          .title = "the file is not of the format that its name says, or of none that is taken",
          .measures = "the first bytes of the file; the ending of its name",
          .limit = "the formats that `layright formats` lists",
          .source =
              "the published signature of each format; Adobe Technical Note 5002, ISO 32000-1, T.81, W3C PNG, TIFF 6.0, SVG 2, RFC 9649, ISO/IEC "
              "23008-12",
          .does_not_cover = "files that are damaged (file.damaged); what became of one on the way to PDF (file.converted)",
          .explain =
              "A file is known by its bytes, never by its name: a PDF that a drawing program named otherwise is a PDF, and a picture with the "
              "wrong ending is taken for what it is; that is only reported. Office documents, and the own files of drawing and layout programs "
              "without a PDF inside, look different on every machine, for fonts and versions differ; only the program that made them can save "
              "them whole. They are held with a sentence on what to ask the customer for, and the exit status is 65.",
          .source_check = file_format_findings};
}

}  // namespace layright
