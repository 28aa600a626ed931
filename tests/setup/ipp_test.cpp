// The IPP request: sizes against PWG 5101.1's unit (1/100 mm = 1/2540 in), and ipptool's own reading of the file.
#include "setup/ipp.h"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "support/press_target.h"

using namespace layright;

TEST_CASE("sizes in 1/100 mm, the short side first whichever edge leads") {
  // 8.5 x 17 in = 21590 x 43180, 12.5 x 19 in = 31750 x 48260: by hand, x 2540.
  auto target = film_target(12.5, 19);
  target.sheet.feed = GENERATE(Feed::short_edge, Feed::long_edge);
  target.sheet.margins = {Length::inches(0.1), Length::inches(0.2), Length::inches(0.3), Length::inches(0.4)};
  auto const job = ipp_job_attributes(target);
  REQUIRE(job.at(0).name == "media-col");
  auto const& media = std::get<IppCollection>(job[0].value);
  auto const& size = std::get<IppCollection>(media.at(0).value);
  CHECK(std::get<int>(size.at(0).value) == 31750);
  CHECK(std::get<int>(size.at(1).value) == 48260);
  auto const margin = [&](std::string const& name) {
    for (auto const& member : media)
      if (member.name == name) return std::get<int>(member.value);
    return -1;
  };
  bool const upright = target.sheet.feed == Feed::short_edge;
  // Laid long edge first the page is the medium a quarter turn counterclockwise: its left edge is the medium's top.
  CHECK(margin("media-top-margin") == (upright ? 1016 : 254));
  CHECK(margin("media-left-margin") == (upright ? 254 : 508));
  CHECK(margin("media-bottom-margin") == (upright ? 508 : 762));
  CHECK(margin("media-right-margin") == (upright ? 762 : 1016));
}

TEST_CASE("the request asks in keywords and lets nothing be scaled, turned or substituted") {
  auto target = film_target(8.5, 17);
  target.press.printer_resolution = "600x1200dpi";
  auto const text = ipptool_request(target, "lantern \"$x\".pdf", "application/pdf");
  CHECK_THAT(text, Catch::Contains("MEMBER integer x-dimension 21590") && Catch::Contains("MEMBER integer y-dimension 43180") &&
                       Catch::Contains("MEMBER keyword media-source by-pass-tray") && Catch::Contains("MEMBER keyword media-type transparency") &&
                       Catch::Contains("ATTR keyword print-scaling none") && Catch::Contains("ATTR boolean ipp-attribute-fidelity true") &&
                       Catch::Contains("ATTR keyword sides one-sided") && Catch::Contains("ATTR enum print-quality 5") &&
                       Catch::Contains("ATTR resolution printer-resolution 600x1200dpi") &&
                       Catch::Contains("ATTR keyword print-rendering-intent relative") && Catch::Contains("ATTR name WhiteShare \"P80\"") &&
                       Catch::Contains("job-name \"lantern \\\"\\$x\\\".pdf\""));
  CHECK(text.find("ATTR enum orientation-requested") == std::string::npos);
  target.render = Render::pictures;
  CHECK_THAT(ipptool_request(target, "x", "application/pdf"), Catch::Contains("print-rendering-intent perceptual"));
}

TEST_CASE("margins are those of the page as a corrected press gets it") {
  auto target = film_target(8.5, 17);
  target.press.correct = true;
  target.press.trial = parse_trial("shift-x=1mm", "2026-03-01").value();
  target.reverse_at = GENERATE(ReverseAt::file, ReverseAt::printer);  // the press gets the same page, whoever reverses
  auto const job = ipp_job_attributes(target);
  for (auto const& member : std::get<IppCollection>(job.at(0).value)) {
    // A quarter inch is 635; what prints 1 mm too far right is sent 1 mm further left.
    if (member.name == "media-left-margin") CHECK(std::get<int>(member.value) == 535);
    if (member.name == "media-right-margin") CHECK(std::get<int>(member.value) == 735);
    if (member.name == "media-top-margin") CHECK(std::get<int>(member.value) == 635);
  }
}

TEST_CASE("the finest resolution is told where nobody knows which one it is") {
  auto target = film_target(8.5, 17);
  REQUIRE(unknown_resolution(target));
  CHECK_THAT(unknown_resolution(target)->message, Catch::Contains("printer-resolution = \"1200dpi\""));
  target.press.printer_resolution = "1200dpi";
  CHECK_FALSE(unknown_resolution(target));
}
