// What a file's structure says of its art: fonts wherever a page names them, profiles once, loops that end.
#include <catch2/catch.hpp>

#include "document/document.h"
#include "support/pdf_maker.h"

using namespace layright;
using namespace layright::test;

namespace {

struct Opened {
  std::string bytes;
  std::unique_ptr<Document> document;
  explicit Opened(PdfMaker const& pdf) : bytes(pdf.bytes()) {
    auto opened = Document::open(bytes_of(bytes), "test.pdf", "");
    REQUIRE(std::holds_alternative<std::unique_ptr<Document>>(opened));
    document = std::move(std::get<std::unique_ptr<Document>>(opened));
  }
};

std::string font(std::string const& name, std::string const& file = "") {
  return "<< /Type /Font /Subtype /TrueType /BaseFont /" + name + " /FontDescriptor << /Type /FontDescriptor /FontName /" + name + " /Flags 4 " +
         file + " >> >>";
}

}  // namespace

TEST_CASE("fonts are found on the page, in forms in forms, in patterns and in annotations that print") {
  PdfMaker pdf;
  auto const program = pdf.stream("", "x");
  auto const inner = pdf.form("[0 0 9 9]", "", "/Resources << /Font << /F " + font("Inner", "/FontFile2 " + program.text()) + " >> >>");
  auto const outer = pdf.form("[0 0 9 9]", "", "/Resources << /Font << /F " + font("ABCDEF+Outer") + " >> /XObject << /I " + inner.text() + " >> >>");
  auto const pattern = pdf.stream(
      "/PatternType 1 /PaintType 1 /TilingType 1 /BBox [0 0 9 9] /XStep 9 /YStep 9 /Resources << /Font << /F " + font("Tile") + " >> >>", "");
  auto const look = pdf.form("[0 0 9 9]", "", "/Resources << /Font << /F " + font("Stamp") + " >> >>");
  pdf.page()
      .use("Font", "F", font("Page"))
      .use("XObject", "O", outer)
      .use("Pattern", "P", pattern)
      .annotation("/Type /Annot /Subtype /Stamp /F 4 /Rect [0 0 9 9] /AP << /N " + look.text() + " >>");
  std::map<std::string, bool> found;
  Opened const opened(pdf);
  for (auto const& f : opened.document->art_of_page(1).fonts) found[f.name] = f.embedded;
  CHECK(found == std::map<std::string, bool>{{"Page", false}, {"Outer", false}, {"Inner", true}, {"Tile", false}, {"Stamp", false}});
}

TEST_CASE("forms that name each other, and resources that are no such thing, end") {
  PdfMaker pdf;
  auto const a = pdf.reserve(), b = pdf.reserve();
  auto const form = [](std::string const& other) {
    return PdfMaker::stream_body(
        "/Type /XObject /Subtype /Form /BBox [0 0 9 9] /Resources << /XObject << /X " + other + " >> /Font 3 /ColorSpace [1] /Pattern (x) >>", "");
  };
  pdf.fill(a, form(b.text()));
  pdf.fill(b, form(a.text()));
  pdf.page()
      .use("XObject", "A", a)
      .use("ColorSpace", "C", "[/ICCBased 7]")
      .use("ColorSpace", "D", "[/Indexed [/Indexed [/Indexed [/Indexed [/ICCBased null]]]]]");
  Opened const opened(pdf);
  CHECK(opened.document->art_of_page(1).fonts.empty());
  CHECK(opened.document->art_of_page(1).alternates == 0);
}

TEST_CASE("claims are read from the information dictionary and from the metadata") {
  PdfMaker pdf;
  auto const xmp =
      pdf.stream("/Type /Metadata /Subtype /XML", "<x><pdfxid:GTS_PDFXVersion>PDF/X-4</pdfxid:GTS_PDFXVersion><pdfaid:part>2</pdfaid:part></x>");
  pdf.catalog("Metadata", xmp.text()).catalog("OutputIntents", "[<< /S /GTS_PDFX /OutputCondition (Wharf coated) >> 3 null]");
  pdf.page();
  auto const art = Opened(pdf).document->art();
  CHECK(art.pdfx == "PDF/X-4");
  CHECK(art.pdfa == "2");
  REQUIRE(art.intents.size() == 1);
  CHECK(art.intents[0].kind == "GTS_PDFX");
  CHECK(art.intents[0].condition == "Wharf coated");
  PdfMaker other;
  other.info("GTS_PDFXVersion", "(PDF/X-1a:2003)").page();
  CHECK(Opened(other).document->art().pdfx == "PDF/X-1a:2003");
  PdfMaker none;
  none.page();
  CHECK(Opened(none).document->art().pdfx.empty());
  CHECK(Opened(none).document->art().pdfa.empty());
}
