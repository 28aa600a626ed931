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
  // y goes down in SVG: a place that ends 120 points from below begins 672 from above.
  CHECK_THAT(html, Contains("x=\"10\" y=\"672\" width=\"100\" height=\"100\""));
}

TEST_CASE("the command that mends is there to copy, for what lay can mend") {
  FileTail tail;
  tail.verdict = Verdict::fix;
  CHECK_THAT(report_of("my fox.pdf", {}, tail),
             Contains("layright lay &#39;my fox.pdf&#39; -o &#39;my fox-laid.pdf&#39;") && Contains("--scale fit"));
  tail.verdict = Verdict::hold;
  CHECK_THAT(report_of("fox.pdf", {}, tail), !Contains("<pre"));
}
