// What the parent takes from a child's words about a page; the child is not trusted.
#include "report/told_page.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "report/page_json.h"

using namespace layright;

TEST_CASE("a page comes back from its text as it was told, whatever its words hold", "[told]") {
  PageReport report;
  report.page.number = 12;
  report.verdict = Verdict::fix;
  report.page.seen = {612.0004, 792.25};
  report.page.boxes.media = {-0.0, 0, 612, 792};
  report.reading = PageReading{};
  report.reading->reading = Reading::wrong;
  report.reading->from = "letters";
  report.reading->words = {"ab\"c", "\\"};
  report.tell_placement = true;
  report.placement = Placement{};
  report.placement->scale = 0.5;
  report.placement->turn = Turn::half;
  report.placement->reversed = report.placement->outside = true;
  report.toner = TonerCost{0.1234567, "\"EUR\"", {{"Cyan", 12.3456, std::nullopt}, {"Black", 5, 0.1234567}}};
  Finding found{.check = "ink.margin", .level = Level::hold, .message = "\"quoted\", a tab\t, no UTF-8: \xff, \x01"};
  found.measured = {{"width_pt", 1.23456}, {"name", std::string("a\nb")}, {"flag", true}};
  found.accepted = true;
  report.findings = {found};
  auto const text = page_text(report);
  INFO(text);
  CHECK(text.find("-0") == std::string::npos);
  auto const page = read_told_page(text);
  REQUIRE(page);
  CHECK(page->json == text);
  CHECK(page->number == 12);
  CHECK(page->verdict == Verdict::fix);
  REQUIRE(page->size);
  CHECK(page->size->width == 612);
  CHECK(page->size->height == 792.25);
  CHECK(page->toner_words == "about 0.123 \"EUR\", without Cyan, whose price is not set");
  CHECK(text.find("\"toner\":{\"cost\":0.123457,\"currency\":\"\\\"EUR\\\"\",\"inks\":[{\"name\":\"Cyan\",\"coverage_pct\":12.346},") != std::string::npos);
  CHECK(page->reading == "wrong");
  CHECK(page->reading_from == "letters");
  CHECK(page->reading_words == report.reading->words);
  REQUIRE(page->placement);
  CHECK(page->placement->scale == 0.5);
  CHECK(page->placement->turn == 180);
  CHECK(page->placement->reversed);
  CHECK(page->placement->outside);
  REQUIRE(page->findings.size() == 1);
  CHECK(page->findings[0].check == "ink.margin");
  CHECK(page->findings[0].level == "hold");
  CHECK(page->findings[0].message == "\"quoted\", a tab\t, no UTF-8: \xEF\xBF\xBD, \x01");  // U+FFFD for what is none
  CHECK(page->findings[0].accepted);
}

TEST_CASE("a page that lay would refuse tells so; one that nobody asked for tells nothing", "[told]") {
  PageReport report;
  CHECK_FALSE(read_told_page(page_text(report))->tells_placement);
  report.tell_placement = true;
  auto const page = read_told_page(page_text(report));
  CHECK(page->tells_placement);
  CHECK_FALSE(page->placement);
}

TEST_CASE("a told page: number, verdict and size, whatever else is told", "[told]") {
  auto const page = read_told_page(R"({"number": 7, "verdict": "fix", "boxes": {"number": 3, "media": [0, 0, 9, 9]}, "seen_size_pt": [612, 792.5],
    "findings": [{"check": "ink.margin", "verdict": "ready", "measured": {"number": 5}}]})");
  REQUIRE(page);
  CHECK(page->number == 7);
  CHECK(page->verdict == Verdict::fix);
  REQUIRE(page->size);
  CHECK(page->size->width == 612);
  CHECK(page->size->height == 792.5);
}

TEST_CASE("a told page without a size has none, and an unknown verdict holds", "[told]") {
  auto const page = read_told_page(R"({"number": 1, "verdict": "splendid"})");
  REQUIRE(page);
  CHECK(page->verdict == Verdict::hold);
  CHECK_FALSE(page->size);
}

TEST_CASE("words that are not of a page are no page", "[told]") {
  for (char const* words : {"", "nonsense", "[1]", "7", "{}", R"({"verdict": "ready"})", R"({"number": 1, "verdict": "ready")", R"({"number": 0})",
                            R"({"number": -1})", R"({"number": 1e300})", R"({"number": "1"})", R"({"number": 1, "seen_size_pt": [612]})",
                            R"({"number": 1} {"number": 2})"}) {
    INFO(words);
    CHECK_FALSE(read_told_page(words));
  }
}

TEST_CASE("a page of a package says which file it comes from, whatever that is called") {
  auto page = read_told_page(R"({"number": 2, "verdict": "ready", "findings": []})");
  REQUIRE(page);
  name_member(*page, "a \"crest\"\n\xff.png");
  CHECK(page->member == "a \"crest\"\n\xff.png");
  auto const json = Json::parse(page->json);
  CHECK(json["number"] == 2);
  CHECK(json["member"].get<std::string>().starts_with("a \"crest\"\n"));
  auto const before = read_told_page(R"({"number": 2, "verdict": "ready"})")->json;
  auto same = *read_told_page(before);
  name_member(same, "");
  CHECK(same.json == before);
}
