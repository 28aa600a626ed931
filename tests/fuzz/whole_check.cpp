// The whole check of a PDF, as the shut-in child does it: open, read pages, place, check. Nothing but findings may come out.
#include <algorithm>
#include <cstdint>

#include "fuzz/require.h"
#include "job/check_work.h"

using namespace layright;
using test::require;

namespace {

InspectOptions usual_options() {
  InspectOptions options;
  options.target.reading = WantedReading::wrong;
  options.target.placement.scale = PlacementOptions::Scale::shrink;
  options.target.limits.seconds_a_page = 2;
  return options;
}

void check_report(PageReport const& report) {
  require(report.verdict == verdict_of(report.findings), "the verdict follows from the findings");
  for (auto const& finding : report.findings)
    require(find_check(finding.check) && !finding.message.empty(), "a finding has a known id and a message");
  if (report.marks && report.marks->ink) require(report.marks->ink->finite(), "ink is finite");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size) {
  static auto const options = usual_options();
  CheckWork work;
  work.bytes = std::as_bytes(std::span(data, size));
  work.name = "fuzzed.pdf";
  work.options = &options;
  auto const file = open_file(work, true);
  require(file.usable || !file.findings.empty(), "a file that cannot be used says why");
  if (!file.document) return 0;
  for (int number = 1; number <= std::min(file.document->page_count(), 2); ++number)
    check_report(inspect_page(*file.document, {.marks = file.reader.get()}, number, options, true).report);
  return 0;
}
