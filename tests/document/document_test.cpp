// Opening files, sound and otherwise, and what a document tells of itself.
#include <catch2/catch.hpp>

#include <algorithm>

#include "base/sha256.h"
#include "document/document.h"
#include "support/pdf_maker.h"

using namespace layright;
using namespace layright::test;
using Kind = OpenError::Kind;

namespace {

using OpenOutcome = std::variant<std::unique_ptr<Document>, OpenError>;

std::unique_ptr<Document> open_whole(std::string const& bytes) {
  auto opened = Document::open(bytes_of(bytes), "test.pdf", "");
  REQUIRE(std::holds_alternative<std::unique_ptr<Document>>(opened));
  return std::move(std::get<std::unique_ptr<Document>>(opened));
}

Kind trouble(std::string const& bytes) {
  auto const opened = Document::open(bytes_of(bytes), "test.pdf", "");
  REQUIRE(std::holds_alternative<OpenError>(opened));
  CHECK_FALSE(std::get<OpenError>(opened).message.empty());
  return std::get<OpenError>(opened).kind;
}

bool has(std::vector<std::string> const& list, std::string const& one) { return std::find(list.begin(), list.end(), one) != list.end(); }

}  // namespace

TEST_CASE("what is no PDF is reported for what it is") {
  CHECK(trouble("") == Kind::empty);
  CHECK(trouble("just a letter to the shop") == Kind::not_pdf);
  CHECK(trouble(std::string(5000, '\0')) == Kind::not_pdf);
  CHECK(trouble("%PDF-1.7\n%%EOF\n") == Kind::damaged);
  PdfMaker no_pages;
  CHECK(trouble(no_pages.bytes()) == Kind::empty);
}

TEST_CASE("encryption for certificates, or of no published kind, is told apart from a password") {
  PdfMaker pdf;
  pdf.page();
  auto const handler = pdf.object("<< /Filter /Example.PubSec /SubFilter /adbe.pkcs7.s4 /V 4 /Length 128 >>");
  pdf.trailer("Encrypt", handler.text()).trailer("ID", "[<00112233> <00112233>]");
  CHECK(trouble(pdf.bytes()) == Kind::certificate);
}

TEST_CASE("a sound file has nothing repaired and nothing lost") {
  auto const bytes = one_page_pdf("[0 0 612 792]", "0 0 100 100 re f");
  auto const document = open_whole(bytes);
  CHECK(document->page_count() == 1);
  CHECK(document->page(1).usable);
  CHECK(document->repairs().empty());
  CHECK_FALSE(document->lost_something());
  CHECK_FALSE(document->encrypted());
  CHECK(document->printing_allowed());
}

TEST_CASE("a wrong cross-reference table is repaired whole, and told") {
  auto bytes = one_page_pdf("[0 0 612 792]", "0 0 100 100 re f");
  auto const at = bytes.rfind("startxref");
  bytes.replace(at + 10, 1, "9");
  auto const document = open_whole(bytes);
  CHECK(document->page(1).usable);
  CHECK_FALSE(document->repairs().empty());
  CHECK_FALSE(document->lost_something());
}

TEST_CASE("a file that is cut short has certainly lost something") {
  PdfMaker pdf;
  for (int i = 0; i < 4; ++i) pdf.page().content("0 0 100 100 re f " + std::string(2000, ' '));
  auto const bytes = pdf.bytes();
  auto const cut = bytes.substr(0, bytes.size() / 2);
  auto const opened = Document::open(bytes_of(cut), "test.pdf", "");
  if (auto const* document = std::get_if<std::unique_ptr<Document>>(&opened)) {
    for (int i = 1; i <= (*document)->page_count(); ++i) (*document)->page(i);
    CHECK((*document)->lost_something());
  } else {
    CHECK(std::get<OpenError>(opened).kind == Kind::damaged);
  }
}

TEST_CASE("every cut and every spoiled byte of a small file gives a document or a reason") {
  PdfMaker pdf;
  pdf.page().content("0 0 100 100 re f");
  pdf.page().rotate("90").annotation("/Type /Annot /Subtype /Square /Rect [0 0 9 9] /F 4");
  auto const whole = pdf.bytes();
  int opened_well = 0;
  for (std::size_t at = 0; at < whole.size(); at += 3) {
    auto spoiled = whole;
    spoiled[at] = static_cast<char>(spoiled[at] ^ 0x55);
    for (auto const& bytes : {whole.substr(0, at), spoiled}) {
      auto const opened = Document::open(bytes_of(bytes), "test.pdf", "");
      auto const* document = std::get_if<std::unique_ptr<Document>>(&opened);
      if (!document) continue;
      ++opened_well;
      for (int i = 1; i <= (*document)->page_count(); ++i) (*document)->page(i);
      (*document)->lost_something();
      (*document)->active_content();
      (*document)->layers_not_printing();
    }
  }
  CHECK(opened_well > 50);
}

TEST_CASE("a page that is named and not there is reported; the others are read") {
  PdfMaker pdf;
  pdf.page();
  auto const tree = pdf.reserve(), page = pdf.object("<< /Type /Page /MediaBox [0 0 50 60] /Parent " + tree.text() + " >>");
  auto const missing = pdf.reserve();
  pdf.fill(tree, "<< /Type /Pages /Count 3 /Kids [" + missing.text() + " " + page.text() + " 17] >>");
  pdf.catalog("Pages", tree.text());
  auto const bytes = pdf.bytes();
  auto const document = open_whole(bytes);
  REQUIRE(document->page_count() == 3);
  CHECK_FALSE(document->page(1).usable);
  CHECK_FALSE(document->page(1).trouble.empty());
  CHECK(document->page(2).usable);
  CHECK_FALSE(document->page(3).usable);
  CHECK(document->lost_something());
}

TEST_CASE("loops in the page tree end") {
  PdfMaker pdf;
  pdf.page();
  auto const tree = pdf.reserve(), page = pdf.object("<< /Type /Page /MediaBox [0 0 50 60] /Parent " + tree.text() + " >>");
  pdf.fill(tree, "<< /Type /Pages /Count 3 /Kids [" + tree.text() + " " + page.text() + "] /Parent " + tree.text() + " >>");
  pdf.catalog("Pages", tree.text());
  auto const bytes = pdf.bytes();
  auto const document = open_whole(bytes);
  CHECK(document->page_count() == 1);
  CHECK(document->page(1).usable);
  CHECK_FALSE(document->repairs().empty());
}

TEST_CASE("a page that is listed twice is two pages") {
  PdfMaker pdf;
  pdf.page();
  auto const tree = pdf.reserve(), page = pdf.object("<< /Type /Page /MediaBox [0 0 50 60] /Parent " + tree.text() + " >>");
  pdf.fill(tree, "<< /Type /Pages /Count 2 /Kids [" + page.text() + " " + page.text() + "] >>");
  pdf.catalog("Pages", tree.text());
  auto const bytes = pdf.bytes();
  CHECK(open_whole(bytes)->page_count() == 2);
}

TEST_CASE("what a viewer could run or open is reported") {
  PdfMaker pdf;
  pdf.page().annotation("/Type /Annot /Subtype /Link /Rect [0 0 9 9] /A << /S /Launch /F (x) >>");
  pdf.page();
  pdf.catalog("OpenAction", "<< /S /JavaScript /JS (x) >>");
  pdf.catalog("Names",
              "<< /JavaScript << /Names [(a) << /S /JavaScript /JS (x) >>] >> /EmbeddedFiles << /Kids [<< /Names [(a) null (b) null] >>] >> >>");
  pdf.catalog("AcroForm", "<< /XFA (x) /Fields [] >>");
  auto const bytes = pdf.bytes();
  auto const document = open_whole(bytes);
  auto const active = document->active_content();
  CHECK(has(active, "JavaScript on opening"));
  CHECK(has(active, "JavaScript"));
  CHECK(has(active, "2 attachments"));
  CHECK(has(active, "an XFA form"));
  CHECK(document->page(1).active_content);
  CHECK_FALSE(document->page(2).active_content);
}

TEST_CASE("a destination on opening runs nothing") {
  PdfMaker pdf;
  pdf.page();
  pdf.catalog("OpenAction", "[0 /Fit]");
  auto const bytes = pdf.bytes();
  CHECK(open_whole(bytes)->active_content().empty());
}

TEST_CASE("layers are told in their print state") {
  // 8.11.4.3 (BaseState, ON, OFF), 8.11.4.4 (usage), 8.11.4.5 (AS: only an entry for the event Print that names the layer counts).
  PdfMaker pdf;
  pdf.page();
  auto const shown = pdf.object("<< /Type /OCG /Name (shown) >>");
  auto const off = pdf.object("<< /Type /OCG /Name (off) >>");
  auto const screen_only = pdf.object("<< /Type /OCG /Name (screen only) /Usage << /Print << /PrintState /OFF >> >> >>");
  auto const not_asked = pdf.object("<< /Type /OCG /Name (not asked) /Usage << /Print << /PrintState /OFF >> >> >>");
  auto const print_only = pdf.object("<< /Type /OCG /Name (print only) /Usage << /Print << /PrintState /ON >> >> >>");
  pdf.catalog("OCProperties", "<< /OCGs [" + shown.text() + " " + off.text() + " " + screen_only.text() + " " + not_asked.text() + " " +
                                  print_only.text() + "] /D << /OFF [" + off.text() + " " + print_only.text() +
                                  "] /AS [<< /Event /Print /Category [/Print] /OCGs [" + screen_only.text() + " " + print_only.text() +
                                  "] >> << /Event /View /Category [/Print] /OCGs [" + not_asked.text() + "] >>] >> >>");
  auto const bytes = pdf.bytes();
  auto const hidden = open_whole(bytes)->layers_not_printing();
  CHECK(hidden == std::vector<std::string>{"off", "screen only"});
}

TEST_CASE("a base state of OFF hides all layers that are not switched on") {
  PdfMaker pdf;
  pdf.page();
  auto const a = pdf.object("<< /Type /OCG /Name (a) >>"), b = pdf.object("<< /Type /OCG /Name (b) >>");
  pdf.catalog("OCProperties", "<< /OCGs [" + a.text() + " " + b.text() + "] /D << /BaseState /OFF /ON [" + b.text() + "] >> >>");
  auto const bytes = pdf.bytes();
  CHECK(open_whole(bytes)->layers_not_printing() == std::vector<std::string>{"a"});
}

TEST_CASE("annotations are counted by whether they print and what becomes of them") {
  // 12.5.3, Table 165: 2 hidden, 4 print, 32 no view; Table 169: the kinds; Table 228: 4096 several lines; Table 189: BG is a field's ground.
  enum Becomes { nothing, part_of_page, left_out, held };
  struct Row {
    char const* entries;
    Becomes becomes;
  };
  auto const row = GENERATE(values<Row>({
      {"/Subtype /Square /C [0] /F 4", part_of_page},
      {"/Subtype /Square /C [0] /F 0", nothing},
      {"/Subtype /Square /C [0]", nothing},
      {"/Subtype /Square /C [0] /F 6", nothing},
      {"/Subtype /Square /C [0] /F 36", part_of_page},
      {"/Subtype /Popup /F 4", nothing},
      {"/Subtype /Square /IC [0] /F 4", part_of_page},
      {"/Subtype /Square /F 4", left_out},
      {"/Subtype /Caret /C [0] /F 4", left_out},
      {"/Subtype /Squiggly /C [0] /F 4", part_of_page},
      {"/Subtype /Link /F 4", part_of_page},
      {"/Subtype /Link /F 4 /Border [0 0 0]", nothing},
      {"/Subtype /Link /F 4 /BS << /W 0 >>", nothing},
      {"/Subtype /Link /F 4 /C []", nothing},
      {"/Subtype /Link /F 4 /AP << /N BLANK >>", part_of_page},
      {"/Subtype /Link /F 4 /Border [0 0 0] /AP << /N BLANK >>", nothing},
      {"/Subtype /Link /F 4 /AP << /N << /On BLANK >> >>", nothing},
      {"/Subtype /Text /F 4 /Contents (call me)", left_out},
      {"/Subtype /Text /F 0", nothing},
      {"/Subtype /FileAttachment /F 4", left_out},
      {"/Subtype /FreeText /F 4", left_out},
      {"/Subtype /FreeText /F 4 /Contents (size L)", held},
      {"/Subtype /Stamp /F 4", held},
      {"/Subtype /Stamp /F 0", nothing},
      {"/Subtype /Widget /FT /Sig /F 4", nothing},
      {"/Subtype /Widget /FT /Tx /F 4", nothing},
      {"/Subtype /Widget /FT /Tx /V (x) /DA (/Helv 9 Tf) /F 4", part_of_page},
      {"/Subtype /Widget /FT /Tx /V (x) /DA (/Gone 9 Tf) /F 4", held},
      {"/Subtype /Widget /FT /Tx /V (x) /F 4", held},
      {"/Subtype /Widget /FT /Tx /V (\\344) /DA (/Helv 9 Tf) /F 4", held},
      {"/Subtype /Widget /FT /Tx /Ff 4096 /V (x) /DA (/Helv 9 Tf) /F 4", held},
      {"/Subtype /Widget /FT /Ch /V (x) /DA (/Helv 9 Tf) /F 4", part_of_page},
      {"/Subtype /Widget /FT /Tx /MK << /BG [1 0 0] >> /F 4", part_of_page},
      {"/Subtype /Widget /FT /Btn /F 4", nothing},
      {"/Subtype /Widget /FT /Btn /MK << /BC [1 0 0] >> /F 4", part_of_page},
      {"/Subtype /Widget /FT /Btn /MK << /CA (Send) >> /F 4", held},
  }));
  PdfMaker pdf;
  std::string entries = row.entries;
  if (auto const at = entries.find("BLANK"); at != std::string::npos) entries.replace(at, 5, pdf.form("[0 0 9 9]", "").text());
  pdf.page().annotation("/Type /Annot /Rect [0 0 9 9] " + entries);
  pdf.catalog("AcroForm", "<< /Fields [] /DR << /Font << /Helv " + pdf.font().text() + " >> >> >>");
  auto const bytes = pdf.bytes();
  auto const page = open_whole(bytes)->page(1);
  INFO(row.entries);
  CHECK(page.printing_annotations == (row.becomes == part_of_page));
  CHECK(page.annotations_left_out == (row.becomes == left_out));
  CHECK(page.annotations_losing_words == (row.becomes == held));
}

TEST_CASE("viewer preferences and a claim of PDF/X are read") {
  PdfMaker plain, asked;
  plain.page();
  asked.page();
  asked.catalog("ViewerPreferences", "<< /PrintScaling /None >>").info("GTS_PDFXVersion", "(PDF/X-3:2002)");
  auto const plain_bytes = plain.bytes(), asked_bytes = asked.bytes();
  CHECK_FALSE(open_whole(plain_bytes)->asks_for_no_scaling());
  CHECK_FALSE(open_whole(plain_bytes)->claims_pdfx());
  CHECK(open_whole(asked_bytes)->asks_for_no_scaling());
  CHECK(open_whole(asked_bytes)->claims_pdfx());
}

TEST_CASE("SHA-256 gives the published digests") {
  // FIPS 180-4's example "abc"; the empty message by the same standard's algorithm (both also in NIST's example values).
  std::string const abc = "abc", nothing;
  CHECK(sha256_hex(bytes_of(abc)) == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(sha256_hex(bytes_of(nothing)) == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}
