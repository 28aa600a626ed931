// page.marks: very many marks (common practice, no published source: 100,000).
#include "check/art_view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("page.marks counts, on both sides of its limit") {
  PdfMaker pdf;
  std::string content = "0 g ";
  for (int i = 0; i < 40; ++i) content += std::to_string(20 + 10 * i) + " 50 5 5 re f ";
  pdf.page().content(content);
  ArtPage page(pdf);
  CHECK(page.silent("page.marks"));
  page.target.limits.most_marks = 40;
  CHECK(page.silent("page.marks"));
  page.target.limits.most_marks = 39;
  CHECK(number(page.finding("page.marks").measured, "count") == 40);
}
