// What a child sends comes back as it was sent; whatever else comes from it is refused, and breaks nothing.
#include "job/messages.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>
#include <limits>
#include <random>

#include "report/page_json.h"

using namespace layright;

namespace {

/// A page with something in each of its parts.
PageSummary full_page() {
  PageSummary page;
  page.number = 7;
  page.member = "crest \xff.png";
  page.verdict = Verdict::fix;
  page.boxes = PageBoxes{{0, 0, 612, 792}, {1, 2, 600, 780}, {0, 0, 612, 792}, {9, 9, 603, 783}, {9, 9, 603, 783}};
  page.clockwise = Turn::three_quarters;
  page.user_unit = 2.5;
  page.size = SeenSize{612.25, 792};
  page.reports_ink = true;
  page.ink = Rect<SeenSpace>{1.5, 2.5, 300, 400};
  PageReading reading;
  reading.reading = Reading::mixed;
  reading.from = "letters";
  reading.where = {{1, 2, 3, 4}};
  reading.letters = LettersSeen::read;
  reading.by_letters = Reading::wrong;
  reading.lines = {{{1, 2, 3, 4}, {"fox", "hill"}, {"xof"}, 0.25, 0.75, 3.5}};
  reading.text_right = 12;
  reading.layer = Reading::right;
  reading.conflict = "its text reads the other way";
  reading.words = {"fox"};
  page.reading = reading;
  page.reading_sentence = "lay reverses it";
  page.images.emplace().push_back({{5, 6, 7, 8}, 300, 299.5, true, 6});
  page.inks.emplace().push_back({"Cyan", 4.25});
  page.total_ink_max_pct = 210;
  page.reports_placement = true;
  auto& placement = page.placement.emplace();
  placement.matrix = {-1, 0, 0, 1, 574, 242};
  placement.scale = 0.5;
  placement.turn = Turn::quarter;
  placement.reversed = placement.outside = true;
  placement.ink = Rect<SheetSpace>{74, 282, 538, 942};
  page.of_original = 0.75;
  page.as_asked = page.placement;
  page.toner = TonerCost{0.12, "EUR", {{"Cyan", 4, std::nullopt}, {"Black", 2, 0.12}}};
  page.colours.emplace().push_back({"spot", 3, {"Gold"}, Rect<SeenSpace>{1, 1, 2, 2}});
  page.fonts.emplace().push_back({"Lantern", true, false, 40});
  Finding finding{.check = "ink.cut", .level = Level::hold, .message = "cut by the edge", .where = Rect<SeenSpace>{1, 2, 3, 4}};
  finding.places = {{5, 6, 7, 8}};
  finding.measured = {{"beyond_pt", 2.5}, {"name", std::string("a\0b", 3)}, {"flat", true}};
  finding.accepted = true;
  page.findings = {finding};
  page.suppressed = {{"ink.faint", 2}};
  page.picture_data = "data:image/jpeg;base64,AAAA";
  page.picture_area = {0, 0, 612, 792};
  return page;
}

message::Converted full_conversion() {
  message::Converted word;
  word.sha256 = std::string(64, 'a');
  word.made = true;
  word.pixels = 1e7;
  word.findings = full_page().findings;
  word.members = {{"a.png", 0, 10}, {"b.pdf", 10, 1ull << 40}};
  word.pages = {1, 3};
  return word;
}

message::Plan full_plan() {
  return {{true, Rect<PageSpace>{-1, -2, 30, 40}, std::nullopt, 73, 74, {"Lantern"}, {{ConversionNote::Kind::left_out, "a picture"}}, 2}};
}

message::Picture small_picture() {
  message::Picture reported;
  reported.picture.width = 2;
  reported.picture.height = 1;
  reported.picture.dpi = 72;
  reported.picture.area = {0, 0, 2, 1};
  reported.picture.rgb = {1, 2, 3, 4, 5, 6};
  reported.picture.alpha = {7, 8};
  return reported;
}

/// All that a child could have meant by these bytes; true where it was any of it.
bool any_of_all(std::string const& bytes) {
  using namespace message;
  auto const one = [&](auto sample) { return decoded<decltype(sample)>(bytes).has_value(); };
  bool any = false;
  for (bool const was : {one(Alive{}),      one(Head{}),        one(message::Page{}), one(message::LaidPage{}), one(message::TiledPage{}),
                         one(End{}),        one(AsksLetters{}), one(NoLetters{}),     one(DrawsUnasked{}),      one(Refused{}),
                         one(Written{}),    one(NotWritten{}),  one(Proved{}),        one(Differs{}),           one(Converted{}),
                         one(Plan{}),       one(Picture{}),     one(Copied{}),        one(WasThere{}),          one(message::JobSheet{}),
                         one(NoJobSheet{}), one(Printing{}),    one(Sent{})})
    any = any || was;
  return any;
}

}  // namespace

TEST_CASE("a page comes back whole", "[messages]") {
  auto const page = full_page();
  auto const bytes = encoded(message::Page{page});
  auto const back = decoded<message::Page>(bytes);
  REQUIRE(back);
  CHECK(encoded(*back) == bytes);
  CHECK(page_text(back->page) == page_text(page));
  CHECK(back->page.reading->conflict == page.reading->conflict);
  CHECK(back->page.member == page.member);
  CHECK(std::get<std::string>(back->page.findings[0].measured[1].second) == std::string("a\0b", 3));
  auto const laid = decoded<message::LaidPage>(encoded(message::LaidPage{{{1, 0, 0, 1, 5, 6}, 123456789012, 77}, page}));
  REQUIRE(laid);
  CHECK(laid->proof.placement.f == 6);
  CHECK(laid->proof.tape_offset == 123456789012);
  CHECK(laid->proof.trouble == 77);
  CHECK(page_text(laid->page) == page_text(page));
  message::TiledPage parts;
  parts.proofs.push_back({{1, 0, 0, 1, 5, 6}, 12, 77, Rect<SheetSpace>{1, 2, 3, 4}, Rect<SeenSpace>{5, 6, 7, 8}});
  parts.tiles.plan = {true, true, false, 2, {{2, 1, 3, {1, 2, 3, 4}, {5, 6, 7, 8}}}, 2.5, 2};
  parts.tiles.placed.push_back({});
  parts.tiles.to_seen.e = 9;
  parts.page = page;
  auto const tiled = decoded<message::TiledPage>(encoded(parts));
  REQUIRE(tiled);
  CHECK(tiled->proofs.at(0).cut->x1 == 7);
  CHECK(tiled->proofs.at(0).beside->y1 == 4);
  CHECK((tiled->tiles.plan.turned && tiled->tiles.plan.mirrored && !tiled->tiles.plan.rim && tiled->tiles.plan.columns == 2));
  CHECK((tiled->tiles.plan.tiles.at(0).rows == 3 && tiled->tiles.plan.tiles.at(0).area.x1 == 7));
  CHECK(tiled->tiles.to_seen.e == 9);
  parts.tiles.placed.clear();  // a part without its place
  CHECK_FALSE(decoded<message::TiledPage>(encoded(parts)).has_value());
}

TEST_CASE("the other messages come back whole", "[messages]") {
  auto const head = decoded<message::Head>(encoded(message::Head{"abc", "pdf", 3, false}));
  REQUIRE(head);
  CHECK((head->sha256 == "abc" && head->format == "pdf" && head->page_count == 3 && !head->usable));
  auto const word = decoded<message::Converted>(encoded(full_conversion()));
  REQUIRE(word);
  CHECK(word->members.at(1).size == 1ull << 40);
  CHECK(word->pages == std::vector<int>{1, 3});
  auto const plan = decoded<message::Plan>(encoded(full_plan()));
  REQUIRE(plan);
  CHECK(
      (plan->plan.box->x1 == 30 && !plan->plan.media && plan->plan.remarks.at(0).kind == ConversionNote::Kind::left_out && plan->plan.pictures == 2));
  auto const drawn = decoded<message::Picture>(encoded(small_picture()));
  REQUIRE(drawn);
  CHECK(drawn->picture.alpha == std::vector<std::uint8_t>{7, 8});
  auto const sent = decoded<message::Sent>(encoded(message::Sent{message::Sent::How::refused, 9, -2, "jammed"}));
  REQUIRE(sent);
  CHECK((sent->how == message::Sent::How::refused && sent->job == 9 && sent->sheets_off == -2 && sent->words == "jammed"));
  CHECK(decoded<message::Differs>(encoded(message::Differs{"a mark", true}))->source_damaged);
}

TEST_CASE("a message is none of another kind", "[messages]") {
  Message const refused{static_cast<char>(MessageKind::refused), encoded(message::Refused{"why"})};
  CHECK(received<message::Refused>(refused));
  CHECK_FALSE(received<message::NotWritten>(refused));
  CHECK_FALSE(received<message::Refused>(Message{'r', refused.bytes}));
  CHECK_FALSE(received<message::Alive>(Message{static_cast<char>(MessageKind::alive), "more"}));
}

TEST_CASE("a message that is cut short anywhere, or goes on, is none", "[messages]") {
  // Of its own kind: the bytes of one kind may by chance be those of another, which the kind tells apart.
  auto const judge = [](auto const& message) {
    using Kind = std::decay_t<decltype(message)>;
    auto const whole = encoded(message);
    REQUIRE(decoded<Kind>(whole));
    for (std::size_t size = 0; size < whole.size(); ++size)
      if (decoded<Kind>(whole.substr(0, size))) FAIL("cut at " << size << " of " << whole.size());
    CHECK_FALSE(decoded<Kind>(whole + '\0'));
  };
  judge(message::LaidPage{{}, full_page()});
  judge(full_conversion());
  judge(full_plan());
  judge(small_picture());
}

TEST_CASE("numbers that are none, and pages, sizes and choices that there are not, are refused", "[messages]") {
  auto const takes = [](auto const& change) {
    auto page = full_page();
    change(page);
    return decoded<message::Page>(encoded(message::Page{page})).has_value();
  };
  double const no = std::numeric_limits<double>::quiet_NaN(), endless = std::numeric_limits<double>::infinity();
  CHECK(takes([](PageSummary&) {}));
  CHECK_FALSE(takes([](PageSummary& p) { p.number = 0; }));
  CHECK_FALSE(takes([](PageSummary& p) { p.number = -1; }));
  CHECK_FALSE(takes([&](PageSummary& p) { p.size->width = no; }));
  CHECK_FALSE(takes([&](PageSummary& p) { p.size->height = -1; }));
  CHECK_FALSE(takes([&](PageSummary& p) { p.ink->x1 = endless; }));
  CHECK_FALSE(takes([&](PageSummary& p) { p.placement->matrix.e = no; }));
  CHECK_FALSE(takes([&](PageSummary& p) { p.placement->turn = static_cast<Turn>(45); }));
  CHECK_FALSE(takes([](PageSummary& p) { p.verdict = static_cast<Verdict>(3); }));
  CHECK_FALSE(takes([](PageSummary& p) { p.reading->reading = static_cast<Reading>(-1); }));
  CHECK_FALSE(takes([](PageSummary& p) { p.findings[0].level = static_cast<Level>(99); }));
  auto picture = small_picture();
  picture.picture.width = 30000;
  picture.picture.height = 30000;
  CHECK_FALSE(decoded<message::Picture>(encoded(picture)));
  // A list that says that it has four thousand million entries takes no memory for them.
  std::string many(4, '\xff');
  CHECK_FALSE(decoded<message::End>(many + std::string(100, '\0')));
}

TEST_CASE("nothing that a child could send breaks the parent", "[messages]") {
  std::mt19937 random(20260101);
  auto const below = [&](std::size_t n) { return std::uniform_int_distribution<std::size_t>(0, n - 1)(random); };
  std::vector<std::string> const whole{encoded(message::LaidPage{{}, full_page()}),
                                       encoded(message::Page{full_page()}),
                                       encoded(full_conversion()),
                                       encoded(full_plan()),
                                       encoded(small_picture()),
                                       encoded(message::End{full_page().findings}),
                                       encoded(message::Sent{})};
  int taken = 0;
  for (int round = 0; round < 4000; ++round) {
    std::string bytes;
    if (round % 4 == 0) {
      bytes.resize(below(200));
      for (auto& c : bytes) c = static_cast<char>(below(256));
    } else {
      bytes = whole[below(whole.size())];
      for (auto n = below(4) + 1; n > 0; --n) bytes[below(bytes.size())] = static_cast<char>(below(3) == 0 ? 0xff : below(256));
      if (below(4) == 0) bytes.erase(below(bytes.size()), below(9) + 1);
    }
    taken += any_of_all(bytes) ? 1 : 0;
    // What is taken can be sent on.
    if (auto const page = decoded<message::Page>(bytes)) CHECK_FALSE(page_text(page->page).empty());
  }
  CHECK(taken > 100);  // changes to words and numbers make other words and numbers
}
