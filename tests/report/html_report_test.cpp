// The HTML report: whole, escaped everywhere, its verdict before its files, its numbers those of the findings.
#include "report/html_report.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <regex>
#include <set>

#include "report/html_text.h"
#include "report/picture_data.h"
#include "support/press_target.h"

using namespace layright;
using Catch::Matchers::Contains;

namespace {

std::string const kHostile = "<script>alert(1)</script>\"'&<img src=x onerror=alert(2)>";

/// What the report writes for one file with one page.
std::string report_of(std::string const& name, PageSummary page, FileTail tail, std::string const& command = "check") {
  std::FILE* const file = std::tmpfile();
  REQUIRE(file);
  auto target = film_target(8.5, 17);
  target.name = kHostile;
  {
    auto const report = html_report(file, target, {Unit::inch, false, command, "", {"--scale", "fit"}});
    FileHead const head{name, std::string(64, 'a'), "pdf", 1};
    report->begin_file(head);
    page.number = 1;
    page.verdict = Verdict::hold;
    report->page(page);
    report->end_file(head, tail);
    report->end_run(tail.verdict);
  }
  std::string text(static_cast<std::size_t>(std::ftell(file)), '\0');
  std::rewind(file);
  REQUIRE(std::fread(text.data(), 1, text.size(), file) == text.size());
  std::fclose(file);
  return text;
}

Finding finding(std::string const& message) {
  return {.check = "font.embedded",
          .level = Level::hold,
          .message = message,
          .where = Rect<SeenSpace>{10, 20, 110, 120},
          .places = {{200, 20, 210, 30}},
          .measured = {{"width_pt", 36.0}, {"name", message}},
          .wanted = {{"width_pt", 72.0}}};
}

PageSummary page_with(std::vector<Finding> findings) {
  PageSummary page;
  page.size = SeenSize{612, 792};
  page.findings = std::move(findings);
  return page;
}

/// Every element that is opened is closed, in order; gives the elements met.
std::vector<std::string> balanced(std::string const& html) {
  static std::set<std::string> const kVoid{"meta", "image", "rect", "circle", "path"};
  std::vector<std::string> open, met;
  std::regex const tag("<(/?)([a-zA-Z][a-zA-Z0-9]*)([^<>]*)>");
  auto const body = std::regex_replace(html, std::regex("<script>[^]*?</script>|<style>[^]*?</style>"), "");
  for (std::sregex_iterator it(body.begin(), body.end(), tag), end; it != end; ++it) {
    std::string const name = (*it)[2], rest = (*it)[3];
    if ((*it)[1] == "/") {
      CAPTURE(name);
      REQUIRE_FALSE(open.empty());
      CHECK(open.back() == name);
      open.pop_back();
      continue;
    }
    met.push_back(name);
    if (!kVoid.contains(name) && !rest.ends_with("/")) open.push_back(name);
  }
  CHECK(open.empty());
  return met;
}

}  // namespace

TEST_CASE("html_text escapes markup, shows control characters and turns no text round") {
  CHECK(html_text("a<b>&\"'") == "a&lt;b&gt;&amp;&quot;&#39;");
  CHECK(html_text("caf\xC3\xA9") == "caf\xC3\xA9");
  CHECK(html_text(std::string("a\0\n\x1b", 4)) == "a\\x00\\x0a\\x1b");
  CHECK(html_text("a\xFF") == "a\\xff");
  CHECK(html_text("exe\xE2\x80\xAE"
                  "fdp") == "exe\\xe2\\x80\\xaefdp");
}

TEST_CASE("names full of markup stay text, wherever they come from") {
  auto page = page_with({finding(kHostile)});
  page.reading.emplace().reading = Reading::right;
  page.reading_sentence = kHostile;
  FileTail tail;
  tail.findings = {Finding{.check = "active.content", .level = Level::note, .message = kHostile}};
  tail.verdict = Verdict::fix;
  tail.refusal = kHostile;
  tail.output = kHostile;
  auto const html = report_of("orders/" + kHostile + ".pdf", page, tail);
  CHECK_THAT(html, !Contains("<script>alert") && !Contains("<img"));
  auto const met = balanced(html);
  CHECK(std::count(met.begin(), met.end(), "section") == 1);
  CHECK(std::count(met.begin(), met.end(), "article") == 1);
  CHECK_THAT(html, Contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
}

TEST_CASE("the verdict and the counts come before the files, and nothing is fetched") {
  FileTail tail;
  tail.verdict = Verdict::hold;
  auto const html = report_of("fox.pdf", page_with({finding("a font does not come with the file")}), tail);
  CHECK(html.find("layright report") < html.find("fox.pdf"));
  CHECK(html.find("class=\"counts\"") < html.find("fox.pdf"));
  for (auto const* outside : {"http:", "https:", "//", "url(", "@import"}) {
    CAPTURE(outside);
    CHECK(html.find(outside) == std::string::npos);
  }
  CHECK_THAT(html, Contains("lang=\"en\"") && Contains("<title>") && Contains("width 0.5 in"));
}

TEST_CASE("a picture shows each place with its number and its level's shape") {
  PagePicture picture;
  picture.width = picture.height = 8;
  picture.rgb.assign(192, 128);
  auto const data = picture_data(picture);
  REQUIRE_THAT(data, Catch::Matchers::StartsWith("data:image/jpeg;base64,/9j/"));  // every JPEG begins FF D8 FF (ITU-T T.81, B.1.1.3)
  auto page = page_with({finding("one"), finding("two")});
  page.picture_area = {0, 0, 612, 792};
  page.picture_data = data;
  page.findings[1].level = Level::note;
  FileTail tail;
  tail.verdict = Verdict::hold;
  auto const html = report_of("fox.pdf", page, tail);
  balanced(html);
  CHECK_THAT(html, Contains("with 4 marked places") && Contains("class=\"badge hold\"") && Contains("class=\"badge note\"") &&
                       Contains(">1</text>") && Contains(">2</text>"));
  // y goes down in SVG: a place that ends 120 points from below begins 672 from above; its frame stands off by 0.35 * 792 / 45 = 6.16 points.
  CHECK_THAT(html, Contains("x=\"3.84\" y=\"665.84\" width=\"112.32\" height=\"112.32\""));
}

TEST_CASE("the command that fixes is there to copy, for what lay can fix") {
  FileTail tail;
  tail.verdict = Verdict::fix;
  CHECK_THAT(report_of("my fox.pdf", {}, tail),
             Contains("layright lay &#39;my fox.pdf&#39; -o &#39;my fox-laid.pdf&#39;") && Contains("--scale fit"));
  tail.verdict = Verdict::hold;
  CHECK_THAT(report_of("fox.pdf", {}, tail), !Contains("<pre"));
}

namespace {

/// A file of the run: its name, its verdict, and its findings.
struct ReportedFile {
  std::string name;
  Verdict verdict;
  std::vector<Finding> findings;
};

std::string report_of_all(std::vector<ReportedFile> const& files) {
  std::FILE* const file = std::tmpfile();
  REQUIRE(file);
  {
    auto const report = html_report(file, film_target(8.5, 17), {Unit::inch, false, "check", "", {}});
    for (auto const& each : files) {
      FileHead const head{each.name, std::string(64, 'a'), "pdf", 1};
      report->begin_file(head);
      auto page = page_with(each.findings);
      page.number = 1;
      page.verdict = each.verdict;
      report->page(page);
      FileTail tail;
      tail.verdict = each.verdict;
      report->end_file(head, tail);
    }
    report->end_run(Verdict::hold);
  }
  std::string text(static_cast<std::size_t>(std::ftell(file)), '\0');
  std::rewind(file);
  REQUIRE(std::fread(text.data(), 1, text.size(), file) == text.size());
  std::fclose(file);
  return text;
}

Finding of(Level level, std::string const& check) { return {.check = check, .level = level, .message = "about " + check}; }

}  // namespace

TEST_CASE("holds come first: files, and findings of a page") {
  auto const html = report_of_all({{"good.pdf", Verdict::ready, {}},
                                   {"fix.pdf", Verdict::fix, {of(Level::fix, "page.size")}},
                                   {"held.pdf", Verdict::hold, {of(Level::note, "image.low"), of(Level::hold, "ink.guide")}}});
  balanced(html);
  auto const section = [&](std::string const& name) { return html.find(">" + name + " <span"); };  // its heading
  CHECK(section("held.pdf") < section("fix.pdf"));
  CHECK(section("fix.pdf") < section("good.pdf"));
  CHECK(html.find("1. hold") < html.find("2. note"));
}

TEST_CASE("many files have an index with counts, whose links lead to them") {
  std::vector<ReportedFile> files;
  for (int i = 0; i < 12; ++i) files.push_back({"good-" + std::to_string(i) + ".pdf", Verdict::ready, {}});
  files.push_back({"held.pdf", Verdict::hold, {of(Level::hold, "ink.guide"), of(Level::hold, "ink.size"), of(Level::note, "line.thin")}});
  auto const html = report_of_all(files);
  balanced(html);
  CHECK_THAT(html, Contains("<summary>12 ready</summary>") && Contains("2 holds, 1 note") && Contains("<td><code>ink.guide</code></td><td>1</td>"));
  CHECK(html.find("class=\"index\"") < html.find("class=\"file\""));
  std::regex const link("<a href=\"#([^\"]+)\">([^<]+)</a>");
  int links = 0;
  for (std::sregex_iterator it(html.begin(), html.end(), link), end; it != end; ++it, ++links)
    CHECK_THAT(html, Contains("<h2 id=\"" + (*it)[1].str() + "\">" + (*it)[2].str() + " <span"));
  CHECK(links == 13);
  CHECK_THAT(report_of_all({files.back()}), !Contains("class=\"index\""));  // one file needs none
}

TEST_CASE("a picture that says no density is not reported as 0 ppi") {
  auto f = of(Level::hold, "picture.density");
  f.measured = {{"ppi", 0.0}, {"width_px", 300.0}};
  CHECK_THAT(report_of_all({{"a.png", Verdict::hold, {f}}}), !Contains("ppi 0") && Contains("width px 300"));
  f.measured = {{"ppi", 0.0}};
  CHECK_THAT(report_of_all({{"a.png", Verdict::hold, {f}}}), !Contains("Measured"));
}

TEST_CASE("numbers stand beside the picture, and no words of a program in place of plain ones") {
  auto page = page_with({finding("one"), finding("two")});
  page.picture_area = {0, 0, 612, 792};
  page.picture_data = "data:image/jpeg;base64,/9j/";
  page.reports_placement = true;
  FileTail tail;
  tail.verdict = Verdict::hold;
  auto const html = report_of("fox.pdf", page, tail);
  CHECK_THAT(html, !Contains("lay would refuse") && Contains("not laid while a hold is open"));
  std::regex const number("<text class=\"badge-number\" x=\"(-?[0-9.]+)\"");
  int numbers = 0;
  for (std::sregex_iterator it(html.begin(), html.end(), number), end; it != end; ++it, ++numbers) {
    double const x = std::stod((*it)[1]);
    CHECK((x < 0 || x > 612));
  }
  CHECK(numbers == 2);  // one for all places of a finding at a side, with a line to each
  std::regex const lead("<path class=\"lead ");
  CHECK(std::distance(std::sregex_iterator(html.begin(), html.end(), lead), std::sregex_iterator()) == 4);
}
