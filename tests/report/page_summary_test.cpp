// What is told of a page, and its JSON.
#include "report/page_summary.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "report/page_json.h"

using namespace layright;

TEST_CASE("a page is told in JSON that any reader takes, whatever its words hold", "[told]") {
  PageReport report;
  report.page.number = 12;
  report.verdict = Verdict::fix;
  report.page.seen = {612.0004, 792.25};
  report.page.boxes.media = {-0.0, 0, 612, 792};
  report.reading = PageReading{};
  report.reading->reading = Reading::wrong;
  report.reading->from = "letters";
  report.reading->words = {"ab\"c", "\\"};
  report.report_placement = true;
  report.placement = Placement{};
  report.placement->scale = 0.5;
  report.placement->turn = Turn::half;
  report.placement->reversed = report.placement->outside = true;
  report.toner = TonerCost{0.1234567, "\"EUR\"", {{"Cyan", 12.3456, std::nullopt}, {"Black", 5, 0.1234567}}};
  Finding found{.check = "ink.margin", .level = Level::hold, .message = "\"quoted\", a tab\t, no UTF-8: \xff, \x01"};
  found.measured = {{"width_pt", 1.23456}, {"name", std::string("a\nb")}, {"flag", true}};
  found.accepted = true;
  report.findings = {found};
  auto reported = page_summary(report);
  auto const text = page_text(reported);
  INFO(text);
  CHECK(text.find("-0") == std::string::npos);
  CHECK(text.find("\"toner\":{\"cost\":0.123457,\"currency\":\"\\\"EUR\\\"\",\"inks\":[{\"name\":\"Cyan\",\"coverage_pct\":12.346},") !=
        std::string::npos);
  auto const json = Json::parse(text);
  CHECK(json["number"] == 12);
  CHECK(json["verdict"] == "fix");
  CHECK(json["seen_size_pt"] == Json({612.0, 792.25}));
  CHECK(json["reading"] == "wrong");
  CHECK(json["reading_words"] == Json({"ab\"c", "\\"}));
  CHECK(json["placement"]["turn"] == 180);
  CHECK(json["placement"]["reversed"] == true);
  CHECK(json["toner"]["words"] == "about 0.123 \"EUR\", without Cyan, whose price is not set");
  REQUIRE(json["findings"].size() == 1);
  CHECK(json["findings"][0]["level"] == "hold");
  CHECK(json["findings"][0]["message"] == "\"quoted\", a tab\t, no UTF-8: \xEF\xBF\xBD, \x01");  // U+FFFD for what is none
  CHECK(json["findings"][0]["measured"]["width_pt"] == 1.235);
  CHECK(json["findings"][0]["accepted"] == true);
  CHECK(reported.findings[0].message == json["findings"][0]["message"].get<std::string>());
  reported.member = "a \"crest\"\n\xff.png";
  CHECK(Json::parse(page_text(reported))["member"].get<std::string>().starts_with("a \"crest\"\n"));
}

TEST_CASE("a page that lay would refuse tells so; one that nobody asked for tells nothing", "[told]") {
  PageReport report;
  CHECK_FALSE(Json::parse(page_text(page_summary(report))).contains("placement"));
  report.report_placement = true;
  CHECK(Json::parse(page_text(page_summary(report)))["placement"].is_null());
}

TEST_CASE("what a profile has switched off is counted, and what is no place is left out", "[told]") {
  PageReport report;
  Finding off{.check = "ink.faint", .level = Level::note, .message = "faint"};
  off.suppressed = true;
  Finding lost{.check = "ink.cut", .level = Level::hold, .message = "cut", .where = Rect<SeenSpace>{0, 0, 1 / 0.0, 1}};
  lost.places = {{0, 0, 1, 1}, {0, 0, 0.0 / 0.0, 1}};
  report.findings = {off, lost, off};
  auto const reported = page_summary(report);
  CHECK(reported.suppressed.at("ink.faint") == 2);
  REQUIRE(reported.findings.size() == 1);
  CHECK_FALSE(reported.findings[0].where);
  CHECK(reported.findings[0].places.size() == 1);
  CHECK(Json::parse(page_text(reported))["suppressed"]["ink.faint"] == 2);
}
