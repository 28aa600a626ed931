// file.dropped: ISO 32000-1, 7.7.2: what of the catalog a laid file has no place for. Claims and pages: tests/command.
#include "check/view.h"

using namespace layright;
using namespace layright::test;

TEST_CASE("file.dropped names what is there and nothing else") {
  struct Row {
    char const *key, *value, *reported;
  };
  auto const row =
      GENERATE(Row{"Outlines", "<< /First << /Title (Wharf) >> >>", "bookmarks"}, Row{"StructTreeRoot", "<< /Type /StructTreeRoot >>", "tags"},
               Row{"AcroForm", "<< /Fields [<< /T (a) >>] >>", "form fields"}, Row{"PageLabels", "<< /Nums [0 << /S /r >>] >>", "page labels"},
               Row{"Dests", "<< /Here [0 /Fit] >>", "named destinations"}, Row{"Threads", "[<< >>]", "article threads"});
  PdfMaker pdf;
  pdf.page();
  CHECK(OpenFile(pdf.bytes()).silent("file.dropped"));
  pdf.catalog(row.key, row.value);
  auto const f = OpenFile(pdf.bytes()).finding("file.dropped");
  CHECK(f.level == Level::note);
  CHECK_THAT(f.message, Contains(row.reported));
  CHECK(number(f.measured, "count") == 1);
}

TEST_CASE("file.dropped is silent where the entries are empty") {
  PdfMaker pdf;
  pdf.page();
  pdf.catalog("Outlines", "<< /Count 0 >>").catalog("AcroForm", "<< /Fields [] >>").catalog("PageLabels", "<< /Nums [] >>").catalog("Threads", "[]");
  CHECK(OpenFile(pdf.bytes()).silent("file.dropped"));
}
