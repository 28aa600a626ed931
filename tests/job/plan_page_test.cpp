// What becomes of a page: every way in which it can come in, against what is wanted of it, by a model apart that knows mirrors and moves only.
#include "job/plan_page.h"

#include <catch2/catch.hpp>
#include <string>
#include <vector>

using namespace layright;

namespace {

using Ink = Rect<SeenSpace>;

// The sheet is 600 x 1200, its live area 30 to 510 by 20 to 1140: its middle on the printed sheet, worked by hand, is (270, 580).
constexpr double kSheetWidth = 600;
constexpr Point<SheetSpace> kMiddle{270, 580};
constexpr SeenSize kSeen{400, 500};
constexpr Ink kColour{100, 200, 180, 260}, kWithWhite{60, 150, 260, 300};

Target target_of(WantedReading wanted, ReverseAt at, bool white) {
  Target t;
  t.name = "dark-shirt";
  t.sheet.name = "film";
  t.sheet.width = Length::points(kSheetWidth);
  t.sheet.length = Length::points(1200);
  t.sheet.margins = {Length::points(30), Length::points(20), Length::points(90), Length::points(60)};
  t.reading = wanted;
  t.reverse_at = at;
  t.press.prints_white = white;
  return t;
}

Page page_of(SeenSize seen) {
  Page page;
  page.seen = seen;
  Rect<PageSpace> const all{0, 0, seen.width, seen.height};
  page.boxes = {all, all, all, all, all};
  return page;
}

Marks marks_of(std::optional<Ink> ink) {
  Marks marks;
  marks.ink = ink;
  return marks;
}

/// The model: no turn and no scale, only a mirror and a move.
struct Move {
  bool mirror = false;
  double x = 0, y = 0;
  Point<SheetSpace> of(double px, double py) const { return {(mirror ? -px : px) + x, py + y}; }
};

/// That brings the middle of `ink` to `middle`.
Move moving(Ink const& ink, Point<SheetSpace> middle, bool mirror) {
  auto const c = ink.centre();
  return {mirror, middle.x - (mirror ? -c.x : c.x), middle.y - c.y};
}

/// What the printer or the RIP makes of a page of the file, and the other way round.
Move across_sheet(Move m) { return {!m.mirror, kSheetWidth - m.x, m.y}; }

/// How the page was laid before.
struct Before {
  bool laid = false, later = false, white = false;
  Move file;  // from the source
};

Before laid_before(bool mirror, bool later, bool white) {
  Move const printed = moving(white ? kWithWhite : kColour, kMiddle, mirror != later);
  return {true, later, white, later ? across_sheet(printed) : printed};
}

Page page_after(Before const& before) {
  if (!before.laid) return page_of(kSeen);
  Page page = page_of({kSheetWidth, 1200});
  LayRecord r;
  r.holds = true;
  r.sheet = {0, 0, kSheetWidth, 1200};
  r.placement = {before.file.mirror ? -1.0 : 1.0, 0, 0, 1, before.file.x, before.file.y};
  r.reversed = before.file.mirror;
  r.reversed_later = before.later;
  r.source_seen = kSeen;
  r.source_trim = kSeen.rect();
  r.source_ink = before.white ? kWithWhite : kColour;
  r.white_prints = before.white;
  page.record = r;
  return page;
}

/// What is seen now of the source's ink.
Ink ink_after(Before const& before, Ink const& ink) {
  if (!before.laid) return ink;
  auto const a = before.file.of(ink.x0, ink.y0), b = before.file.of(ink.x1, ink.y1);
  return Ink::from_corners(a.x, a.y, b.x, b.y);
}

struct Incoming {
  char const* name;
  Reading reading;
  LettersSeen letters;
  char const* check;    // that holds it
  char const* refusal;  // a part of it; nothing where the reading is known
};
std::vector<Incoming> const kIncoming{{"right", Reading::right, LettersSeen::read, "", nullptr},
                                      {"wrong", Reading::wrong, LettersSeen::read, "", nullptr},
                                      {"mixed", Reading::mixed, LettersSeen::read, "reading.mixed", "reads both ways"},
                                      {"unknown", Reading::unknown, LettersSeen::not_understood, "reading.unknown", "not understood"},
                                      {"none", Reading::unknown, LettersSeen::none, "reading.none", "nothing on the page looks like letters"}};

PageReading reading_of(Incoming const& in) {
  PageReading r;
  r.reading = in.reading;
  r.letters = in.letters;
  r.from = "letters";
  return r;
}

/// The file's move from the source: `mirrored_now` is whether the page as it is now is mirrored, or nothing where it is left as it is.
Move expected_move(Before const& before, Ink const& ink, bool later, bool mirrored_now) {
  bool const mirror = mirrored_now != before.file.mirror;
  auto middle = kMiddle;
  if (before.laid) {  // the ink stays where it was printed
    auto const was = before.later ? across_sheet(before.file) : before.file;
    middle = was.of(ink.centre().x, ink.centre().y);
  }
  Move const printed = moving(ink, middle, mirror != later);
  return later ? across_sheet(printed) : printed;
}

void check_laid(PagePlan const& plan, Before const& before, Move const& move, bool later, bool white, Incoming const& in) {
  REQUIRE(plan.record);
  REQUIRE(plan.placement);
  CHECK(plan.refusal.empty());
  for (auto const& [x, y] : std::vector<std::pair<double, double>>{{0, 0}, {400, 0}, {100, 260}}) {
    auto const want = move.of(x, y);
    auto const from_source = plan.record->placement.apply(Point<SeenSpace>{x, y});
    CHECK(from_source.x == Approx(want.x));
    CHECK(from_source.y == Approx(want.y));
    auto const seen = before.laid ? before.file.of(x, y) : Point<SheetSpace>{x, y};
    auto const from_now = plan.placement->matrix.apply(Point<SeenSpace>{seen.x, seen.y});
    CHECK(from_now.x == Approx(want.x));
    CHECK(from_now.y == Approx(want.y));
  }
  CHECK(plan.placement->reversed == (move.mirror != before.file.mirror));
  CHECK(plan.of_original.has_value() == before.laid);
  LayRecord const& r = *plan.record;
  CHECK(r.reversed == move.mirror);
  CHECK(r.reversed_later == later);
  CHECK(r.target == "dark-shirt");
  // The record tells of the source, which is the other way round where the page was reversed.
  bool const turned = before.file.mirror && (in.reading == Reading::right || in.reading == Reading::wrong);
  CHECK(r.reading == (!turned ? in.reading : in.reading == Reading::right ? Reading::wrong : Reading::right));
  bool const found_white = before.laid ? before.white : white;
  CHECK(r.white_prints == found_white);
  CHECK(r.source_ink == (found_white ? kWithWhite : kColour));
  CHECK(r.other_ink_known == (found_white != white));
  if (found_white != white) {
    REQUIRE(r.other_ink);
    Ink const other = white ? kWithWhite : kColour;
    CHECK(r.other_ink->x0 == Approx(other.x0));
    CHECK(r.other_ink->y1 == Approx(other.y1));
  }
  CHECK(plan.placement->ink->centre().x == Approx(move.of((white ? kWithWhite : kColour).centre().x, 0).x));
}

}  // namespace

TEST_CASE("a page is planned as its reading, the reading that is wanted, who reverses, earlier laying and white ask for") {
  int cases = 0;
  for (auto const wanted : {WantedReading::as_is, WantedReading::right, WantedReading::wrong})
    for (auto const at : {ReverseAt::file, ReverseAt::printer, ReverseAt::rip})
      for (bool const white : {false, true}) {
        bool const later = at != ReverseAt::file;
        auto const target = target_of(wanted, at, white);
        Ink const ink = white ? kWithWhite : kColour;
        std::vector<std::pair<char const*, Before>> const befores{{"not laid", {}},
                                                                  {"laid for this target", laid_before(false, later, white)},
                                                                  {"laid for this target, reversed", laid_before(true, later, white)},
                                                                  {"laid for another", laid_before(false, !later, !white)},
                                                                  {"laid for another, reversed", laid_before(true, !later, !white)}};
        for (auto const& [how, before] : befores)
          for (auto const& in : kIncoming) {
            INFO(in.name << " comes in, " << word(wanted) << " is wanted, reversed at the " << word(at) << ", "
                         << (white ? "white prints" : "white is paper") << ", " << how);
            ++cases;
            auto const page = page_after(before);
            auto const marks = marks_of(ink_after(before, ink));
            auto const plan = plan_page(page, &marks, reading_of(in), target, {});
            auto const accepted = plan_page(page, &marks, reading_of(in), target, {Unit::inch, {"reading.mixed", "reading.unknown", "reading.none"}});
            // The printed sheet shows the page mirrored by the file and by whoever reverses later; the two undo one another.
            bool mirrored_now = false;
            if (wanted != WantedReading::as_is && !in.refusal) {
              bool const printed_must_turn = (in.reading == Reading::right) != (wanted == WantedReading::right);
              mirrored_now = printed_must_turn != later;
            }
            auto const move = expected_move(before, ink, later, mirrored_now);
            check_laid(accepted, before, move, later, white, in);
            if (wanted != WantedReading::as_is && in.refusal) {
              CHECK_FALSE(plan.record);
              CHECK_FALSE(plan.placement);
              CHECK_THAT(plan.refusal, Catch::Contains(in.refusal));
              REQUIRE(plan.placed);  // checks may still say where it would lie
              CHECK(std::holds_alternative<Placement>(*plan.placed));
            } else {
              check_laid(plan, before, move, later, white, in);
            }
          }
      }
  CHECK(cases == 450);
}

TEST_CASE("a page laid again for the same target stays as it is, to the last digit, and so does its record") {
  auto const target = target_of(WantedReading::wrong, ReverseAt::file, true);
  auto const marks = marks_of(kWithWhite);
  auto const first = plan_page(page_of(kSeen), &marks, reading_of(kIncoming[0]), target, {});
  REQUIRE(first.record);
  Page laid = page_of({kSheetWidth, 1200});
  laid.record = first.record;
  auto const on_sheet = *first.placement->ink;
  auto const laid_marks = marks_of(Ink{on_sheet.x0, on_sheet.y0, on_sheet.x1, on_sheet.y1});
  auto const again = plan_page(laid, &laid_marks, reading_of(kIncoming[1]), target, {});
  REQUIRE(again.record);
  CHECK(again.placement->matrix == Matrix<SeenSpace, SheetSpace>{});
  CHECK(again.record->placement == first.record->placement);
  CHECK(again.record->reading == Reading::right);
  CHECK(again.record->source_ink == first.record->source_ink);
  CHECK(again.of_original == 1.0);
}

TEST_CASE("what refuses a page, and what a person's word does about it") {
  auto const target = target_of(WantedReading::wrong, ReverseAt::file, false);
  auto const plain = page_of(kSeen);
  auto const marks = marks_of(kColour);
  auto const right = reading_of(kIncoming[0]);
  auto const why = [&](Page const& page, Marks const& m, PageReading const& reading, PlanOptions const& options = {}) {
    auto const plan = plan_page(page, &m, reading, target, options);
    CHECK(plan.record.has_value() == plan.refusal.empty());
    CHECK(plan.placement.has_value() == plan.refusal.empty());
    return plan.refusal;
  };
  REQUIRE(why(plain, marks, right).empty());

  SECTION("a page of which nothing is left, or that is turned by half a right angle") {
    Page page = plain;
    page.usable = false;
    page.trouble = "its boxes leave nothing";
    CHECK(why(page, marks, right) == "its boxes leave nothing");
    page = plain;
    page.clockwise.reset();
    page.rotate_as_written = "45";
    CHECK(why(page, marks, right) == "Rotate 45 is no multiple of 90 degrees");
    CHECK_FALSE(plan_page(page, &marks, right, target, {}).placed);
  }
  SECTION("art larger than the live area, also of a page that was laid before") {
    auto const large = marks_of(Ink{0, 0, 481, 400});  // the live area is 480 wide
    auto const turned = plan_page(page_of({500, 500}), &large, right, target, {});
    REQUIRE(turned.record);
    CHECK(turned.record->turn == Turn::quarter);
    auto fixed = target;
    fixed.placement.turn = Turn::none;
    auto const held = plan_page(page_of({500, 500}), &large, right, fixed, {});
    REQUIRE(held.placed);
    CHECK(held.refusal == std::get<PlaceRefusal>(*held.placed).message);
    CHECK_FALSE(held.record);
    auto small = fixed;
    small.sheet.width = Length::points(160);  // leaves 40 for art of 80
    Page const laid = page_after(laid_before(true, false, false));
    auto const seen = marks_of(ink_after(laid_before(true, false, false), kColour));
    auto const again = plan_page(laid, &seen, right, small, {});
    CHECK_FALSE(again.record);
    CHECK_THAT(again.refusal, Catch::EndsWith("(percentages are of the original, from which this page was laid)"));
  }
  SECTION("a record whose placement is flat") {
    Page page = page_after(laid_before(false, false, false));
    page.record->placement.a = 0;
    auto const refusal = why(page, marks_of(ink_after(laid_before(false, false, false), kColour)), right);
    CHECK(refusal == "the record in the page holds a placement that cannot be undone");
  }
  SECTION("a record that does not hold is none") {
    Page page = page_after(laid_before(true, false, false));
    page.record->holds = false;
    auto const plan = plan_page(page, &marks, right, target, {});
    REQUIRE(plan.record);
    CHECK_FALSE(plan.of_original);
    CHECK(plan.record->source_seen.width == kSheetWidth);
  }
  SECTION("what contradicts a person's word") {
    auto conflict = right;
    conflict.conflict = "its text reads the other way";
    CHECK(why(plain, marks, conflict) == "its text reads the other way");
    CHECK(why(plain, marks, conflict, {Unit::inch, {"reading.conflict"}}).empty());
  }
  SECTION("nobody looked at its letters") { CHECK_THAT(why(plain, marks, {}), Catch::Contains("not understood")); }
  SECTION("a blank page has nothing that reads") { CHECK(why(plain, marks_of({}), {}).empty()); }
  SECTION("marks that were not wholly read, told before all else") {
    auto part = marks;
    part.whole = false;
    part.trouble = "a picture cannot be decoded";
    CHECK(why(plain, part, right) == "a picture cannot be decoded");
    CHECK(why(plain, part, reading_of(kIncoming[2])) == "a picture cannot be decoded");
    CHECK(why(plain, part, right, {Unit::inch, {"file.damaged"}}).empty());
    CHECK_THAT(why(plain, part, reading_of(kIncoming[2]), {Unit::inch, {"file.damaged"}}), Catch::Contains("reads both ways"));
  }
  SECTION("annotations whose words would be lost") {
    Page page = plain;
    page.annotations_losing_words = 2;
    CHECK_THAT(why(page, marks, right), Catch::Contains("2 "));
    CHECK(why(page, marks, right, {Unit::inch, {"annot.print"}}).empty());
  }
  SECTION("what was accepted when it was laid stays so, while the record holds") {
    Page page = page_after(laid_before(false, false, false));
    auto const seen = marks_of(ink_after(laid_before(false, false, false), kColour));
    page.record->accepted = {"reading.mixed"};
    CHECK(why(page, seen, reading_of(kIncoming[2])).empty());
    CHECK_FALSE(why(page, seen, reading_of(kIncoming[3])).empty());
    page.record->holds = false;
    CHECK_FALSE(why(page, seen, reading_of(kIncoming[2])).empty());
  }
}

TEST_CASE("a page at whose marks nobody looked is placed by all that is seen, and its record says so") {
  auto target = target_of(WantedReading::as_is, ReverseAt::file, false);
  target.placement.by = PlaceBy::page;
  auto const plan = plan_page(page_of(kSeen), nullptr, {}, target, {});
  REQUIRE(plan.record);
  CHECK_FALSE(plan.record->ink_known);
  CHECK_FALSE(plan.record->source_ink);
  CHECK_FALSE(plan.placement->ink);
  CHECK_FALSE(plan.placed);
  // Its middle (200, 250) on (270, 580).
  CHECK(plan.record->placement.e == Approx(70));
  CHECK(plan.record->placement.f == Approx(330));
  CHECK_FALSE(plan_page(page_of({500, 1300}), nullptr, {}, target, {}).record);
}

TEST_CASE("a hold keeps a page from being laid but not from being shown; one that a person accepted is recorded") {
  auto const target = target_of(WantedReading::right, ReverseAt::file, false);
  auto const marks = marks_of(kColour);
  Page page = page_of(kSeen);
  auto const finding = [](char const* check, Level level, bool accepted = false) {
    return Finding{.check = check, .level = level, .message = std::string("see ") + check, .accepted = accepted};
  };
  auto const settled = [&](std::vector<Finding>& findings) {
    auto plan = plan_page(page, &marks, reading_of(kIncoming[0]), target, {});
    settle_holds(plan, findings, page, {});
    return plan;
  };
  std::vector<Finding> findings{finding("ink.cut", Level::note), finding("ink.margin", Level::fix)};
  CHECK(settled(findings).record);
  findings.push_back(finding("ink.guide", Level::hold));
  auto held = settled(findings);
  CHECK_FALSE(held.record);
  CHECK(held.placement);
  CHECK(held.refusal == "see ink.guide");
  findings.back().accepted = true;
  held = settled(findings);
  REQUIRE(held.record);
  CHECK(held.record->accepted == std::vector<std::string>{"ink.guide"});
  findings.back().accepted = false;
  findings.back().suppressed = true;
  CHECK(settled(findings).record);
  findings.back().suppressed = false;
  page = page_after(laid_before(false, false, false));
  page.record->accepted = {"ink.guide"};
  auto const again = settled(findings);
  REQUIRE(again.record);
  CHECK(findings.back().accepted);
  CHECK(findings.back().message == "see ink.guide (accepted when it was laid)");
  CHECK(again.record->accepted == std::vector<std::string>{"ink.guide"});
}
