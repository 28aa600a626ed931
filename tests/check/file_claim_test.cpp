// file.claim: what a file says that it is, and is not (ISO 32000-1, 14.11.5).
#include "check/art_view.h"
#include "check/embedded_font.h"
#include "check/icc.h"
#include "support/tiny_font.h"

using namespace layright;
using namespace layright::test;

namespace {

struct Claim {
  std::string version = "PDF/X-4";
  bool intent = true, trim = true, font = true;
  std::string intent_kind = "GTS_PDFX";
  std::string content = "0 g 50 50 30 30 re f";
};

ArtPage art(Claim const& claim) {
  PdfMaker pdf;
  if (!claim.version.empty()) pdf.info("GTS_PDFXVersion", "(" + claim.version + ")");
  if (claim.intent)
    pdf.catalog("OutputIntents", "[<< /Type /OutputIntent /S /" + claim.intent_kind + " /OutputConditionIdentifier (Wharf) /DestOutputProfile " +
                                     profile_object(pdf, "CMYK").text() + " >>]");
  auto& page = pdf.page()
                   .use("ExtGState", "H", "<< /ca 0.5 >>")
                   .use("Font", "F", claim.font ? embedded_font(pdf, tiny_truetype()) : pdf.font())
                   .content(claim.content);
  page.content(claim.font ? "BT /F 20 Tf 50 160 Td <00010002> Tj ET" : "BT /F 20 Tf 50 160 Td (Wren) Tj ET");
  if (claim.trim) page.trim("[20 20 500 700]");
  return ArtPage(pdf);
}

}  // namespace

TEST_CASE("file.claim is silent for a file that claims nothing, or keeps what it claims") {
  CHECK(art({}).silent("file.claim"));
  CHECK(art({.version = "", .intent = false, .trim = false, .font = false}).silent("file.claim"));
  CHECK(art({.content = "/H gs 1 0 0 rg 50 50 30 30 re f"}).silent("file.claim"));  // PDF/X-4 allows both
}

TEST_CASE("file.claim tells each promise that is broken") {
  CHECK_THAT(art({.font = false}).finding("file.claim").message, Contains("PDF/X-4") && Contains("font"));
  CHECK_THAT(art({.intent = false}).finding("file.claim").message, Contains("output intent"));
  CHECK_THAT(art({.intent_kind = "GTS_PDFA1"}).finding("file.claim").message, Contains("output intent"));  // ISO 15930-7, 6.2: of its own kind
  CHECK_THAT(art({.trim = false}).finding("file.claim").message, Contains("trim"));
  CHECK_THAT(art({.version = "PDF/X-1a:2001", .content = "1 0 0 rg 50 50 30 30 re f"}).finding("file.claim").message, Contains("RGB"));
  CHECK_THAT(art({.version = "PDF/X-3:2002", .content = "/H gs 0 g 50 50 30 30 re f"}).finding("file.claim").message, Contains("transparency"));
}

TEST_CASE("file.claim reads the claim of PDF/A from the metadata") {
  PdfMaker pdf;
  auto const xmp = pdf.stream("/Type /Metadata /Subtype /XML", "<rdf:Description pdfaid:part=\"1\" pdfaid:conformance=\"B\"/>");
  pdf.catalog("Metadata", xmp.text());
  pdf.page().use("ExtGState", "H", "<< /ca 0.5 >>").content("/H gs 0 g 50 50 30 30 re f");
  CHECK_THAT(ArtPage(pdf).finding("file.claim").message, Contains("PDF/A-1") && Contains("transparency"));
}

TEST_CASE("file.claim: a device's colours in PDF/A need an output intent or a profile (ISO 19005-1, 6.2.3)") {
  auto const [content, intent, profile, reported] =
      GENERATE(table<std::string, std::string, bool, bool>({{"0 1 1 rg", "", false, true},  // no intent
                                                            {"0.5 g", "", false, true},
                                                            {"1 0 0 0 k", "GTS_PDFX", false, true},  // another standard's
                                                            {"0 1 1 rg", "GTS_PDFA1", false, false},
                                                            {"/CS cs 0 1 1 sc", "", true, false}}));  // colours of a profile
  INFO(content << " " << intent);
  PdfMaker pdf;
  auto const xmp = pdf.stream("/Type /Metadata /Subtype /XML", "<rdf:Description pdfaid:part=\"2\" pdfaid:conformance=\"B\"/>");
  pdf.catalog("Metadata", xmp.text());
  if (!intent.empty())
    pdf.catalog("OutputIntents", "[<< /Type /OutputIntent /S /" + intent + " /OutputConditionIdentifier (Wharf) /DestOutputProfile " +
                                     profile_object(pdf, "RGB ").text() + " >>]");
  auto& page = pdf.page();
  if (profile) page.use("ColorSpace", "CS", "[/ICCBased " + profile_object(pdf, "RGB ").text() + "]");
  page.content(content + " 50 50 30 30 re f");
  CHECK(ArtPage(pdf).silent("file.claim") != reported);
}
