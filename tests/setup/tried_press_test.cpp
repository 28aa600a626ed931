// press.margin and press.mirror: what a driver or a trial sheet says of the press, against what the target needs. 612 x 1224 pt, a quarter
// inch (18 pt) of margin; by hand.
#include "setup/blank_edges.h"

#include <catch2/catch.hpp>

#include "setup/press_setup.h"
#include "support/places.h"
#include "support/press_target.h"

using namespace layright;

namespace {

Finding const* margin_finding(PressSetup const& setup) {
  for (auto const& f : setup.findings)
    if (f.check == "press.margin") return &f;
  return nullptr;
}

PressSetup setup_of(Target const& target, std::optional<Rect<SheetSpace>> const& ink) {
  auto prepared = prepare_press(target, ink, Unit::inch);
  REQUIRE(prepared);
  return prepared->setup;
}

}  // namespace

TEST_CASE("what the trial sheet showed to stay blank is held against the live area and the ink, with a PPD and without") {
  auto target = film_target(8.5, 17);
  if (GENERATE(false, true)) target.press.ppd = std::string(layright::test::kTestfiles) + "/press/bench.ppd";
  target.press.trial = parse_trial("left=20pt,top=10pt", "2026-03-01").value();
  auto const without_file = setup_of(target, std::nullopt);
  REQUIRE(margin_finding(without_file));
  CHECK(margin_finding(without_file)->level == Level::note);
  CHECK_THAT(margin_finding(without_file)->message,
             Catch::Contains("left 0.278 in") && Catch::Contains("trial sheet of 2026-03-01") && !Catch::Contains("top"));
  auto const lost = setup_of(target, Rect<SheetSpace>{18, 100, 500, 500});
  CHECK(margin_finding(lost)->level == Level::hold);
  auto const kept = setup_of(target, Rect<SheetSpace>{20, 100, 500, 500});
  CHECK(margin_finding(kept)->level == Level::note);
  target.sheet.margins = Margins::all(Length::points(20));
  CHECK_FALSE(margin_finding(setup_of(target, std::nullopt)));
}

TEST_CASE("where somebody reverses later, the file's right is the press's left") {
  auto target = film_target(8.5, 17);
  std::vector<Finding> findings;
  Rect<SheetSpace> const printable{20, 0, 612, 1224}, ink{100, 100, 594, 200};
  report_blank_edges(target, printable, ink, "", Unit::inch, findings);
  target.reverse_at = ReverseAt::printer;
  report_blank_edges(target, printable, ink, "", Unit::inch, findings);
  REQUIRE(findings.size() == 2);
  CHECK(findings[0].level == Level::note);
  CHECK(findings[1].level == Level::hold);
}

TEST_CASE("a trial sheet that the press reversed, or did not, against who shall reverse") {
  auto target = film_target(8.5, 17);
  target.press.mirror_on = {{"Mirror", "On"}};
  auto const reported = [&](char const* measured, ReverseAt who) {
    target.press.trial = parse_trial(measured, "2026-03-01").value();
    target.reverse_at = who;
    std::string text;
    for (auto const& f : setup_of(target, std::nullopt).findings) text += f.check == "press.mirror" ? f.message : "";
    return text;
  };
  CHECK(reported("reads=right", ReverseAt::file) == "");
  CHECK(reported("reads=right", ReverseAt::rip) == "");
  CHECK(reported("reads=wrong", ReverseAt::printer) == "");
  CHECK(reported("left=1mm", ReverseAt::printer) == "");
  CHECK_THAT(reported("reads=wrong", ReverseAt::file), Catch::Contains("mirrored its trial sheet of 2026-03-01, and for this target it must not"));
  CHECK_THAT(reported("reads=wrong", ReverseAt::rip), Catch::Contains("must not"));
  CHECK_THAT(reported("reads=right", ReverseAt::printer), Catch::Contains("did not mirror its trial sheet"));
}
