// The laid file: its page, its form, its record; judged by the PDF library's own checker and, in pictures, by poppler.
#include <catch2/catch.hpp>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFWriter.hh>

#include "base/version.h"
#include "document/document.h"
#include "document/page_tree.h"
#include "marks/reader.h"
#include "support/pdf_maker.h"
#include "support/sample_pages.h"
#include "write/write_laid.h"

using namespace layright;
using namespace layright::test;
namespace fs = std::filesystem;

namespace {

Sheet small_sheet() {
  Sheet sheet;
  sheet.width = Length::points(420);
  sheet.length = Length::points(500);
  return sheet;
}

std::unique_ptr<Document> opened(std::string const& bytes) {
  auto result = Document::open(bytes_of(bytes), "test.pdf", "");
  REQUIRE(std::holds_alternative<std::unique_ptr<Document>>(result));
  return std::move(std::get<std::unique_ptr<Document>>(result));
}

/// The page's lower left at (dx, dy) on the sheet.
LaidPage moved(Document const& document, int number, double dx, double dy) {
  LaidPage laid;
  laid.source = document.page(number);
  Page const& page = laid.source;
  laid.placement = translation<SeenSpace, SheetSpace>(dx, dy);
  if (page.record && page.record->holds) laid.record = *page.record;
  laid.record.layright = "test";
  laid.record.source_sha256 = "00";
  laid.record.sheet = small_sheet().page();
  laid.record.source_seen = page.seen;
  if (page.record && page.record->holds) laid.record.source_seen = page.record->source_seen;
  laid.record.source_trim = laid.record.source_seen.rect();
  laid.record.accepted = {"ink.cut"};
  return laid;
}

std::string lay(Document& document, std::vector<LaidPage> const& pages) {
  std::string out;
  auto const outcome = write_laid(document, pages, small_sheet(), [&](std::span<std::byte const> bytes) {
    out.append(reinterpret_cast<char const*>(bytes.data()), bytes.size());
    return true;
  });
  if (!outcome) FAIL(outcome.error().message);
  return out;
}

std::string lay_all(std::string const& bytes, double dx = 7, double dy = 11) {
  auto const document = opened(bytes);
  std::vector<LaidPage> pages;
  for (int i = 1; i <= document->page_count(); ++i) pages.push_back(moved(*document, i, dx, dy));
  return lay(*document, pages);
}

/// Written anew by the PDF library: packed, renumbered, perhaps linearised.
std::string rewritten(std::string const& bytes, bool linearise, qpdf_object_stream_e objects) {
  QPDF pdf;
  pdf.processMemoryFile("laid", bytes.data(), bytes.size());
  QPDFWriter writer(pdf);
  writer.setOutputMemory();
  writer.setLinearization(linearise);
  writer.setObjectStreamMode(objects);
  writer.write();
  auto const buffer = writer.getBufferSharedPointer();
  return {reinterpret_cast<char const*>(buffer->getBuffer()), buffer->getSize()};
}

template <class Change>
std::string changed(std::string const& bytes, Change&& change) {
  QPDF pdf;
  pdf.processMemoryFile("laid", bytes.data(), bytes.size());
  change(pdf, pdf.getAllPages().at(0));
  QPDFWriter writer(pdf);
  writer.setOutputMemory();
  writer.write();
  auto const buffer = writer.getBufferSharedPointer();
  return {reinterpret_cast<char const*>(buffer->getBuffer()), buffer->getSize()};
}

/// Without the file's identifier, which remembers where the file came from (ISO 32000-1, 14.4).
std::string without_id(std::string const& bytes) { return bytes.substr(0, bytes.rfind("/ID")); }

bool holds(std::string const& bytes, int number = 1) {
  auto const page = opened(bytes)->page(number);
  REQUIRE(page.record);
  return page.record->holds;
}

std::string two_pages_that_share() {
  PdfMaker pdf;
  auto const font = pdf.font();
  auto const shared = pdf.stream("", "BT /F1 20 Tf 20 100 Td (shared) Tj ET");
  for (int i = 0; i < 2; ++i) pdf.page().media("[0 0 200 200]").use("Font", "F1", font).entry("Contents", shared.text());
  return pdf.bytes();
}

struct Picture {
  int width = 0, height = 0;
  std::string pixels;  // grey, rows from the top
  int at(int x, int y) const { return static_cast<unsigned char>(pixels[static_cast<std::size_t>(y * width + x)]); }
};

/// One pixel a point, by poppler, as printed.
std::optional<Picture> picture(std::string const& bytes, std::string const& options) {
  auto const stem = (fs::temp_directory_path() / ("layright-picture-" + std::to_string(getpid()))).string();
  write_file(stem + ".pdf", bytes);
  if (std::system(("pdftoppm -r 72 -gray -singlefile " + options + " '" + stem + ".pdf' '" + stem + "' 2>/dev/null").c_str()) != 0) return {};
  std::ifstream in(stem + ".pgm", std::ios::binary);
  std::string magic;
  int most = 0;
  Picture out;
  in >> magic >> out.width >> out.height >> most;
  in.get();
  out.pixels.assign(std::istreambuf_iterator<char>(in), {});
  fs::remove(stem + ".pdf");
  fs::remove(stem + ".pgm");
  if (magic != "P5" || out.pixels.size() != static_cast<std::size_t>(out.width * out.height)) return {};
  return out;
}

}  // namespace

TEST_CASE("a laid page is the sheet's size, has no turn and no unit, and asks viewers to leave its size alone") {
  PdfMaker pdf;
  pdf.page().media("[10 10 210 310]").crop("[20 20 120 220]").rotate("270").user_unit("2").art("[30 30 40 40]").content("0 0 99 99 re f");
  pdf.catalog("OpenAction", "<< /S /JavaScript /JS (x) >>").catalog("PageLabels", "<< /Nums [0 << >>] >>");
  auto const laid = lay_all(pdf.bytes());
  auto const document = opened(laid);
  auto const page = document->page(1);
  CHECK(page.boxes.media == Rect<PageSpace>{0, 0, 420, 500});
  CHECK(page.boxes.trim == page.boxes.media);
  CHECK(page.has_trim);
  CHECK(page.clockwise == Turn::none);
  CHECK(page.user_unit == 1);
  CHECK(page.box_faults.empty());
  CHECK(document->asks_for_no_scaling());
  CHECK(document->active_content().empty());
  auto dictionary = document->library().getAllPages().at(0);
  CHECK_FALSE(dictionary.hasKey("/ArtBox"));
  CHECK_FALSE(dictionary.hasKey("/Annots"));
  auto preferences = document->library().getRoot().getKey("/ViewerPreferences");
  CHECK(preferences.getKey("/PickTrayByPDFSize").getBoolValue());
  CHECK(preferences.getKey("/Duplex").getName() == "/Simplex");
  CHECK_FALSE(document->library().getRoot().hasKey("/PageLabels"));
}

TEST_CASE("content streams and pictures come along byte for byte") {
  PdfMaker pdf;
  auto const photo = pdf.image_rgb(2, 1, {255, 0, 0, 0, 0, 255});
  std::string const content = "q 100 0 0 50 72 72 cm /Photo Do Q % untouched   blanks";
  pdf.page().media("[0 0 300 300]").use("XObject", "Photo", photo).content(content);
  auto const laid = lay_all(pdf.bytes());
  CHECK(laid.find(content) != std::string::npos);
  auto const document = opened(laid);
  QPDFObjectHandle first = document->library().getAllPages().at(0);
  auto form = first.getKey("/Resources").getKey("/XObject").getKey("/Source");
  REQUIRE(form.isStream());
  CHECK(form.getDict().getKey("/Resources").getKey("/XObject").hasKey("/Photo"));
}

TEST_CASE("a laid file can be written, opened and believed again") {
  auto const samples = sample_pages();
  for (auto const& sample : samples) {
    INFO(sample.name);
    auto const laid = lay_all(sample.bytes);
    CHECK(holds(laid));
    // Laying twice is laying once, to the byte.
    CHECK(lay_all(laid) == laid);
    CHECK(lay_all(sample.bytes) == laid);
    CHECK(holds(rewritten(laid, false, qpdf_o_preserve)));
    CHECK(holds(rewritten(laid, true, qpdf_o_generate)));
    CHECK(opened(laid)->repairs().empty());
  }
}

TEST_CASE("a laid page laid for another place has its source as its form, never itself") {
  auto const first = lay_all(one_page_pdf("[0 0 200 200]", "0 0 100 100 re f"), 5, 5);
  auto const second = lay_all(first, 50, 60);
  CHECK(without_id(second) == without_id(lay_all(one_page_pdf("[0 0 200 200]", "0 0 100 100 re f"), 50, 60)));
}

TEST_CASE("a record holds no longer once the page is changed") {
  PdfMaker pdf;
  auto const photo = pdf.image_rgb(2, 1, {255, 0, 0, 0, 0, 255});
  pdf.page().media("[0 0 300 300]").use("XObject", "Photo", photo).use("Font", "F1", pdf.font()).content("q 9 0 0 9 72 72 cm /Photo Do Q");
  auto const laid = lay_all(pdf.bytes());
  REQUIRE(holds(laid));
  CHECK(holds(changed(laid, [](QPDF&, QPDFObjectHandle) {})));
  CHECK(holds(changed(laid, [](QPDF& q, QPDFObjectHandle) { q.getRoot().replaceKey("/Lang", QPDFObjectHandle::newString("en")); })));
  auto const form_of = [](QPDFObjectHandle page) { return page.getKey("/Resources").getKey("/XObject").getKey("/Source"); };
  CHECK_FALSE(holds(changed(laid, [](QPDF&, QPDFObjectHandle page) { page.replaceKey("/Rotate", QPDFObjectHandle::newInteger(90)); })));
  CHECK_FALSE(holds(changed(laid, [](QPDF&, QPDFObjectHandle page) {
    page.replaceKey("/MediaBox", QPDFObjectHandle::newArray(QPDFObjectHandle::Rectangle(0, 0, 420, 501)));
  })));
  CHECK_FALSE(holds(changed(laid, [](QPDF& q, QPDFObjectHandle page) {
    page.replaceKey("/Contents", QPDFObjectHandle::newStream(&q, "q 1 0 0 1 7.1 11 cm\n/Source Do\nQ\n"));
  })));
  CHECK_FALSE(holds(changed(laid, [&](QPDF&, QPDFObjectHandle page) {
    form_of(page).replaceStreamData("q 9 0 0 9 73 72 cm /Photo Do Q", QPDFObjectHandle::newNull(), QPDFObjectHandle::newNull());
  })));
  CHECK_FALSE(holds(changed(laid, [&](QPDF&, QPDFObjectHandle page) {
    auto image = form_of(page).getDict().getKey("/Resources").getKey("/XObject").getKey("/Photo");
    image.replaceStreamData(std::string("\0\0\0\0\0\0", 6), QPDFObjectHandle::newNull(), QPDFObjectHandle::newNull());
  })));
  CHECK_FALSE(holds(changed(laid, [&](QPDF&, QPDFObjectHandle page) {
    form_of(page).getDict().getKey("/Resources").getKey("/Font").getKey("/F1").replaceKey("/BaseFont", QPDFObjectHandle::newName("/Courier"));
  })));
  CHECK_FALSE(holds(changed(laid, [](QPDF& q, QPDFObjectHandle page) {
    page.replaceKey("/Annots", QPDFObjectHandle::newArray({q.makeIndirectObject(QPDFObjectHandle::parse("<< /Subtype /Square /Rect [0 0 9 9] >>"))}));
  })));
}

TEST_CASE("a record tells what was done") {
  auto const laid = lay_all(one_page_pdf("[0 0 200 100]", "0 0 9 9 re f"), 3.25, 1.0 / 3);
  auto const page = opened(laid)->page(1);
  REQUIRE(page.record);
  CHECK(page.record->placement == translation<SeenSpace, SheetSpace>(3.25, 1.0 / 3));
  CHECK(page.record->sheet == Rect<SheetSpace>{0, 0, 420, 500});
  CHECK(page.record->source_seen.width == 200);
  CHECK(page.record->source_seen.height == 100);
  CHECK_FALSE(page.record->source_ink);
  CHECK(page.record->accepted == std::vector<std::string>{"ink.cut"});
}

TEST_CASE("pages come out in the order asked for, one of them twice, others not at all") {
  PdfMaker pdf;
  for (auto const* word : {"first", "second", "third"}) pdf.page().media("[0 0 100 100]").content(std::string("% ") + word);
  auto const source = pdf.bytes();
  auto const document = opened(source);
  auto const laid = lay(*document, {moved(*document, 3, 0, 0), moved(*document, 1, 0, 0), moved(*document, 3, 9, 9)});
  auto const result = opened(laid);
  REQUIRE(result->page_count() == 3);
  CHECK(laid.find("% second") == std::string::npos);
  for (int i = 1; i <= 3; ++i) CHECK(holds(laid, i));
  CHECK(result->page(1).record->placement.e == 0);
  CHECK(result->page(3).record->placement.e == 9);
}

TEST_CASE("a page that does not exist, or cannot be laid, is refused and nothing is written") {
  auto const source = one_page_pdf("[0 0 0 0]", "");
  for (int const number : {1, 2}) {
    auto const document = opened(source);
    LaidPage page;
    page.source = document->page(number);
    int pieces = 0;
    CHECK_FALSE(write_laid(*document, std::vector<LaidPage>{page}, small_sheet(), [&](auto) { return ++pieces > 0; }));
    CHECK(pieces == 0);
  }
}

TEST_CASE("a sink that gives up stops the writing") {
  auto const source = one_page_pdf("[0 0 100 100]", "0 0 9 9 re f");
  auto const document = opened(source);
  auto const outcome = write_laid(*document, std::vector{moved(*document, 1, 0, 0)}, small_sheet(), [](auto) { return false; });
  REQUIRE_FALSE(outcome);
  CHECK(outcome.error().kind == ErrorKind::io);
}

TEST_CASE("odd content is laid: shared, missing, cut over streams, inherited resources, unbalanced") {
  PdfMaker inherited, cut, missing, unbalanced;
  inherited.inherited("Resources", "<< /Font << /F1 " + inherited.font().text() + " >> >>");
  for (int i = 0; i < 3; ++i) inherited.page().media("[0 0 200 200]").without_resources().content("BT /F1 20 Tf 20 100 Td (inherited) Tj ET");
  cut.page().media("[0 0 200 200]").content("0 0 1 rg 20").content("20 100 100").content("re f");
  missing.page().media("[0 0 200 200]");
  unbalanced.page().media("[0 0 200 200]").content("q q 2 0 0 2 0 0 cm 10 10 30 30 re f Q Q Q Q 100 100 50 50 re f q");
  for (auto const& source : {two_pages_that_share(), inherited.bytes(), cut.bytes(), missing.bytes(), unbalanced.bytes()}) {
    auto const laid = lay_all(source, 0, 0);
    auto const before = picture(source, ""), after = picture(laid, "");
    REQUIRE(before);
    REQUIRE(after);
    int differing = 0;
    for (int y = 0; y < 200; ++y)
      for (int x = 0; x < 200; ++x) differing += before->at(x, y) != after->at(x, y + 300);
    CHECK(differing == 0);
  }
}

TEST_CASE("poppler shows each sample page where the placement puts it") {
  for (auto const& sample : sample_pages()) {
    INFO(sample.name);
    auto const page = opened(sample.bytes)->page(1);
    auto const before = picture(sample.bytes, "-cropbox"), after = picture(lay_all(sample.bytes, 10, 20), "");
    REQUIRE(before);
    REQUIRE(after);
    if (page.user_unit != 1) continue;  // poppler ignores UserUnit (22.12), so it cannot judge these
    REQUIRE(after->width == 420);
    REQUIRE(after->height == 500);
    int differing = 0, ink = 0;
    int const top = 500 - 20 - before->height;
    for (int y = 1; y < before->height - 1; ++y)
      for (int x = 1; x < before->width - 1; ++x) {
        if (x + 10 >= 420 || y + top < 0) continue;
        ink += before->at(x, y) < 250;
        differing += std::abs(before->at(x, y) - after->at(x + 10, y + top)) > 64;
      }
    CHECK(ink > 0);
    CHECK(differing <= ink / 20);  // edges fall on other pixels where the source's own size is no whole number of points
  }
}

TEST_CASE("printing annotations are flattened, others go") {
  PdfMaker pdf;
  auto const look = [&](char const* colour) { return pdf.form("[0 0 10 10]", std::string(colour) + " 0 0 10 10 re f").text(); };
  pdf.page()
      .media("[0 0 200 200]")
      .annotation("/Type /Annot /Subtype /Stamp /F 4 /Rect [20 20 60 60] /AP << /N " + look("0 g") + " >>")
      .annotation("/Type /Annot /Subtype /Stamp /F 0 /Rect [100 20 140 60] /AP << /N " + look("0 g") + " >>")
      .annotation("/Type /Annot /Subtype /Stamp /F 4 /Rect [180 100 240 140] /AP << /N " + look("0 g") + " >>")
      .annotation("/Type /Annot /Subtype /Widget /FT /Btn /F 4 /AS /On /Rect [20 100 60 140] /AP << /N << /On " + look("0 g") + " /Off " +
                  look("1 0 0 rg") + " >> >>");
  auto const laid = lay_all(pdf.bytes(), 0, 0);
  auto const shown = picture(laid, "");
  REQUIRE(shown);
  CHECK(shown->at(40, 460) == 0);
  CHECK(shown->at(120, 460) == 255);
  CHECK(shown->at(190, 380) == 0);
  CHECK(shown->at(220, 380) == 255);  // beyond what the source's page shows
  CHECK(shown->at(40, 380) == 0);
  CHECK(opened(laid)->page(1).printing_annotations == 0);
}

// Judged by poppler. It draws as on a screen, so what is not for screens (36, 53) is judged without that flag.
TEST_CASE("an annotation prints, upright where it must not turn with the page, and no attachment's pin does") {
  for (std::string const subtype : {"FileAttachment", "Link", "Stamp"})
    for (int const flags : {4, 20, 36, 5, 53})
      for (std::string const turn : {"0", "90", "270"}) {
        INFO(subtype << " " << flags << " " << turn);
        auto const page = [&](int with) {
          PdfMaker pdf;
          auto const note = pdf.form("[0 0 40 20]", "0 0 40 20 re f 1 g 4 4 8 8 re f");
          pdf.page()
              .media("[0 0 200 200]")
              .entry("Rotate", turn)
              .content("0.5 g 20 20 60 60 re f")
              .annotation("/Type /Annot /Subtype /" + subtype + " /F " + std::to_string(with) + " /Rect [100 120 140 140] /AP << /N " + note.text() +
                          " >>")
              .annotation("/Type /Annot /Subtype /Ink /F 4 /Rect [0 0 10 10]");
          return pdf.bytes();
        };
        auto const bytes = page(flags);
        auto const document = opened(bytes);
        auto const marks = (*MarksReader::open(std::as_bytes(std::span(bytes.data(), bytes.size())), ""))->read(document->page(1), {});
        auto const shown = picture(page(flags & ~32), "");
        REQUIRE(shown);
        REQUIRE(marks.ink);
        Rect<SeenSpace> seen{200, 200, 0, 0};
        for (int y = 0; y < 200; ++y)
          for (int x = 0; x < 200; ++x)
            if (shown->at(x, y) < 250)
              seen = {std::min<double>(seen.x0, x), std::min<double>(seen.y0, 199 - y), std::max<double>(seen.x1, x + 1),
                      std::max<double>(seen.y1, 200 - y)};
        CHECK(marks.ink->contains(seen, 1.01));
        CHECK(seen.contains(*marks.ink, 1.01));
      }
}

// Judged by poppler, but for the layers that a content leaves open: marked content ends with its stream (ISO 32000-1, 14.6), and so MuPDF has
// it, while poppler and Ghostscript let them hide annotations as well. Such are shown: what nobody wanted can be taken out, what is lost is lost.
TEST_CASE("what a page's content leaves open does not reach its annotations") {
  char const* const endings[] = {"10 10 30 30 re W",
                                 "10 10 30 30 re W*",
                                 "q 10 10 30 30 re W n",
                                 "BT /F 30 Tf 7 Tr 20 100 Td (Heron) Tj",
                                 "BT 7 Tr",
                                 "10 10 m 90 90 l",
                                 "/OC /Off BDC",
                                 "/OC /Off BDC /Span BMC",
                                 "/OC /Off BDC EMC EMC EMC",
                                 "99999999999999999999999999 w q BI /W 1 /H 1 /BPC 8 /CS /G ID \x80 EI Q /OC /Off BDC",
                                 "q q 3 0 0 3 0 0 cm",
                                 "Q Q",
                                 "0 1 0 rg 0.5 w"};
  for (std::string const ending : endings) {
    INFO(ending);
    PdfMaker pdf;
    auto const layer = pdf.object("<< /Type /OCG /Name (off) >>");
    pdf.catalog("OCProperties", "<< /OCGs [" + layer.text() + "] /D << /OFF [" + layer.text() + "] /Order [] >> >>");
    auto const note = pdf.form("[0 0 10 10]", "0 0 10 10 re f");
    pdf.page()
        .media("[0 0 200 200]")
        .use("Properties", "Off", layer)
        .use("Font", "F", pdf.font())
        .content("0.5 g 20 20 60 60 re f " + ending)
        .annotation("/Type /Annot /Subtype /Stamp /F 4 /Rect [120 120 160 160] /AP << /N " + note.text() + " >>");
    auto const laid = lay_all(pdf.bytes(), 0, 0);
    auto const before = picture(pdf.bytes(), ""), after = picture(laid, "");
    REQUIRE(before);
    REQUIRE(after);
    CHECK(after->at(140, 360) == 0);
    int differing = 0;
    for (int y = 0; y < 200; ++y)
      for (int x = 0; x < 200; ++x) differing += before->at(x, y) != after->at(x, y + 300);
    CHECK(differing == (before->at(140, 60) == 0 ? 0 : 1600));
    auto const twice = picture(lay_all(laid, 0, 0), "");
    REQUIRE(twice);
    CHECK(twice->pixels == after->pixels);
  }
}

TEST_CASE("annotations that bring no appearance are drawn by their shape") {
  // ISO 32000-1, 12.5.6.7 to 12.5.6.13; where the lines lie is computed by hand from the rectangles and points.
  PdfMaker pdf;
  auto& page = pdf.page().media("[0 0 200 200]");
  page.annotation("/Type /Annot /Subtype /Square /F 4 /Rect [20 20 60 60] /C [0] /BS << /W 4 >>")
      .annotation("/Type /Annot /Subtype /Circle /F 4 /Rect [100 20 140 60] /C [0] /IC [0] /RD [5 5 5 5]")
      .annotation("/Type /Annot /Subtype /Line /F 4 /Rect [15 90 65 110] /L [20 100 60 100] /C [0] /BS << /W 6 >>")
      .annotation("/Type /Annot /Subtype /Ink /F 4 /Rect [95 90 145 110] /InkList [[100 100 140 100]] /C [0] /BS << /W 6 >>")
      .annotation("/Type /Annot /Subtype /Polygon /F 4 /Rect [20 130 60 170] /Vertices [20 130 60 130 40 170] /IC [0] /C [0]")
      .annotation("/Type /Annot /Subtype /Highlight /F 4 /Rect [100 130 140 150] /QuadPoints [100 150 140 150 100 130 140 130] /C [0]")
      // Readers draw points and marked text also where the rectangle does not hold them.
      .annotation("/Type /Annot /Subtype /Ink /F 4 /Rect [160 100 170 110] /InkList [[100 180 140 180]] /C [0] /BS << /W 6 >>")
      .annotation("/Type /Annot /Subtype /Highlight /F 4 /Rect [0 0 5 5] /QuadPoints [150 150 190 150 150 130 190 130] /C [0]")
      .annotation("/Type /Annot /Subtype /Square /F 0 /Rect [150 20 190 60] /C [0] /IC [0]");  // does not print
  auto const laid = lay_all(pdf.bytes(), 0, 0);
  auto const shown = picture(laid, "");
  REQUIRE(shown);
  struct Spot {
    int x, y;  // from the lower left
    bool ink;
  };
  for (Spot const spot : {Spot{22, 40, true},
                          {40, 40, false},
                          {120, 40, true},
                          {102, 40, false},
                          {40, 100, true},
                          {40, 94, false},
                          {120, 100, true},
                          {40, 140, true},
                          {22, 165, false},
                          {120, 140, true},
                          {120, 155, false},
                          {170, 40, false},
                          {120, 180, true},
                          {165, 105, false},
                          {170, 140, true},
                          {170, 155, false}}) {
    CAPTURE(spot.x, spot.y);
    CHECK((shown->at(spot.x, 499 - spot.y) < 128) == spot.ink);
  }
  CHECK(opened(laid)->page(1).printing_annotations == 0);
}

TEST_CASE("of annotations that have no shape nothing is drawn, and a field is drawn with its ground") {
  PdfMaker pdf;
  auto const font = pdf.font();
  pdf.page()
      .media("[0 0 200 200]")
      .annotation("/Type /Annot /Subtype /FreeText /F 4 /Rect [20 20 60 60] /DA (/Helv 12 Tf 0 g) /Contents (size L)")
      .annotation("/Type /Annot /Subtype /Text /F 4 /Rect [100 20 140 60] /Contents (call me)")
      .annotation("/Type /Annot /Subtype /Stamp /F 4 /Rect [20 80 60 120] /Name /Draft")
      .annotation(
          "/Type /Annot /Subtype /Widget /FT /Tx /F 4 /Rect [100 80 180 120] /V (LLLLLLLL) /DA (/Helv 20 Tf 0 g) /MK << /BG [0.5] /BC [0] >> /BS << "
          "/W 4 >>")
      .annotation("/Type /Annot /Subtype /Squiggly /F 4 /Rect [20 140 80 170] /QuadPoints [20 170 80 170 20 140 80 140] /C [0]")
      .annotation("/Type /Annot /Subtype /Caret /F 4 /Rect [100 140 140 180] /C [0]");
  pdf.catalog("AcroForm", "<< /Fields [] /DR << /Font << /Helv " + font.text() + " >> >> >>");
  auto const shown = picture(lay_all(pdf.bytes(), 0, 0), "");
  REQUIRE(shown);
  auto const darkest = [&](int x0, int y0, int x1, int y1) {
    int least = 255;
    for (int x = x0; x < x1; ++x)
      for (int y = y0; y < y1; ++y) least = std::min(least, shown->at(x, 499 - y));
    return least;
  };
  CHECK(darkest(0, 0, 200, 78) == 255);
  CHECK(darkest(0, 78, 70, 124) == 255);
  CHECK(shown->at(102, 499 - 100) < 10);                 // the field's border
  CHECK(std::abs(shown->at(107, 499 - 112) - 128) < 3);  // its ground
  CHECK(darkest(108, 88, 172, 112) < 60);                // its letters
  CHECK(darkest(20, 140, 80, 146) < 128);                // the foot of the word
  CHECK(darkest(20, 150, 80, 170) == 255);
  CHECK(darkest(100, 140, 140, 180) == 255);
}

TEST_CASE("a laid file says of its layers in the simplest words what prints") {
  // ISO 32000-1, 8.11.4.3: states alone. What the rules are is tested in tests/marks/layers_test.cpp.
  PdfMaker pdf;
  auto const a = pdf.object("<< /Type /OCG /Name (a) /Usage << /Print << /PrintState /OFF >> >> >>"), b = pdf.object("<< /Type /OCG /Name (b) >>");
  auto const design = pdf.object("<< /Type /OCG /Name (c) /Intent /Design >>");
  std::string const both = a.text() + " " + b.text();
  pdf.catalog("OCProperties", "<< /OCGs [" + both + " " + design.text() + "] /D << /OFF [" + b.text() + " " + design.text() +
                                  "] /AS [<< /Event /Print /Category [/Print] /OCGs [" + a.text() + "] >>] >> /Configs [<< /OFF [" + a.text() +
                                  "] >>] >>");
  auto const hidden = pdf.stream("/Type /XObject /Subtype /Form /BBox [0 0 50 50] /OC " + a.text(), "1 0 0 rg 0 0 50 50 re f");
  pdf.page()
      .use("Properties", "A", a)
      .use("Properties", "C", design)
      .use("Properties", "Not", "<< /Type /OCMD /VE [/Not " + a.text() + "] >>")
      .use("Properties", "Off", "<< /Type /OCMD /P /AllOff /OCGs [" + both + "] >>")
      .use("XObject", "F", hidden)
      .content(
          "/OC /A BDC 1 0 0 rg 20 20 50 50 re f EMC /F Do /OC /C BDC 0 1 0 rg 100 20 50 50 re f EMC /OC /Not BDC 0 0 1 rg 200 20 50 50 re f EMC "
          "/OC /Off BDC 0 0 1 rg 300 20 50 50 re f EMC");
  auto const bytes = pdf.bytes();
  auto const laid = lay_all(bytes);
  QPDF file;
  file.processMemoryFile("laid", laid.data(), laid.size());
  auto properties = file.getRoot().getKey("/OCProperties");
  auto configuration = properties.getKey("/D");
  auto const names = [&](char const* list) {
    std::set<std::string> found;
    for (auto const& layer : configuration.getKey(list).getArrayAsVector()) found.insert(QPDFObjectHandle(layer).getKey("/Name").getUTF8Value());
    return found;
  };
  CHECK(names("/OFF") == std::set<std::string>{"a", "b"});
  CHECK(names("/ON") == std::set<std::string>{"c"});
  CHECK(!configuration.hasKey("/AS"));
  CHECK(!properties.hasKey("/Configs"));
  int memberships = 0, forms = 0;
  for (auto object : file.getAllObjects()) {
    auto dictionary = object.isStream() ? object.getDict() : object;
    if (!dictionary.isDictionary()) continue;
    CHECK(!dictionary.hasKey("/VE"));
    auto resources = dictionary.hasKey("/Resources") ? dictionary.getKey("/Resources") : dictionary;
    if (resources.isDictionary() && resources.hasKey("/Properties")) {
      auto listed = resources.getKey("/Properties");
      for (auto const& key : listed.getKeys()) {
        auto owner = listed.getKey(key);
        if (!owner.getKey("/Type").isNameAndEquals("/OCMD")) continue;
        ++memberships;
        CHECK(owner.getKey("/OCGs").getKey("/Name").getUTF8Value() == "c");
      }
    }
    if (object.isStream() && dictionary.hasKey("/OC")) {
      ++forms;
      CHECK(object.getStreamData()->getSize() == 0);  // many readers show a form whatever its layer
    }
  }
  CHECK(memberships >= 2);
  CHECK(forms == 1);
}

TEST_CASE("metadata stays and names layright as the producer") {
  PdfMaker pdf;
  auto const xmp = pdf.stream("/Type /Metadata /Subtype /XML", "<x><pdf:Producer>other</pdf:Producer><dc:title>kept</dc:title></x>");
  pdf.page();
  pdf.info("Title", "(kept title)").info("Producer", "(other)").catalog("Metadata", xmp.text());
  auto const laid = lay_all(pdf.bytes());
  CHECK(laid.find("(kept title)") != std::string::npos);
  CHECK(laid.find("<pdf:Producer>layright " + std::string(program_version()) + "</pdf:Producer><dc:title>kept") != std::string::npos);
  CHECK(laid.find("other") == std::string::npos);
}

TEST_CASE("content cut in the middle of a string or after a comment shows on the laid page as it did") {
  // 7.8.2 lets streams be divided between tokens only; where a file does otherwise, one blank stands there, as for the reader of marks.
  PdfMaker text, comment, packed;
  text.page().media("[0 0 200 200]").use("Font", "F1", text.font()).content("BT /F1 20 Tf 20 100 Td (cut").content("here) Tj ET");
  comment.page().media("[0 0 200 200]").content("0 0 1 rg % a remark").content("1 0 0 rg\n20 20 100 100 re f");
  // 7.4.5: eight bytes as they are, then the end.
  auto const colour = packed.stream("/Filter /RunLengthDecode",
                                    "\x07"
                                    "1 0 0 rg\x80"),
             shape = packed.stream("", "20 20 100 100 re f");
  packed.page().media("[0 0 200 200]").entry("Contents", "[" + colour.text() + " " + shape.text() + "]");
  for (auto const& source : {text.bytes(), comment.bytes(), packed.bytes()}) {
    auto const laid = lay_all(source, 0, 0);
    auto const document = opened(laid);
    auto const page = document->tree().page(1);
    auto form = QPDFObjectHandle(page).getKey("/Resources").getKey("/XObject").getKey("/Source");
    auto const data = form.getStreamData(qpdf_dl_generalized);
    std::string const joined(reinterpret_cast<char const*>(data->getBuffer()), data->getSize());
    CAPTURE(joined);
    CHECK((joined == "BT /F1 20 Tf 20 100 Td (cut here) Tj ET " || joined == "0 0 1 rg % a remark 1 0 0 rg\n20 20 100 100 re f " ||
           joined == "1 0 0 rg 20 20 100 100 re f "));
  }
}

TEST_CASE("content in several pieces, one of them packed as only pictures are, is refused in words") {
  PdfMaker pdf;
  auto const first = pdf.stream("", "20 20 100 100 re f"), second = pdf.stream("/Filter /JBIG2Decode", "no picture");
  pdf.page().media("[0 0 200 200]").entry("Contents", "[" + first.text() + " " + second.text() + "]");
  auto const bytes = pdf.bytes();
  auto const document = opened(bytes);
  auto const outcome = write_laid(*document, std::vector{moved(*document, 1, 0, 0)}, small_sheet(), [](auto) { return true; });
  REQUIRE_FALSE(outcome);
  CHECK(outcome.error().kind == ErrorKind::data);
  CHECK(outcome.error().message.find("packed as only pictures are") != std::string::npos);
}

// ISO 32000-1, Table 6: ASCIIHex, ASCII85 and RunLength have no parameters; readers pass over those that are there.
TEST_CASE("parameters of filters that take none are passed over") {
  struct Row {
    char const* filters;
    std::string data;
  };
  for (auto const& [filters, data] : {Row{"/Filter /ASCIIHexDecode /DecodeParms << /Predictor 1 >>", "3230203230203130302031303020726520660a>"},
                                      Row{"/Filter [/ASCIIHexDecode] /DecodeParms << /Predictor 12 >>", "3230203230203130302031303020726520660a>"},
                                      Row{"/Filter [/ASCIIHexDecode /RunLengthDecode] /DecodeParms [<< /Columns 3 >> << /Predictor 2 >>]",
                                          "123230203230203130302031303020726520660a80>"}})
    for (bool const cut : {false, true}) {
      INFO(filters << (cut ? ", in two pieces" : ""));
      PdfMaker pdf;
      auto const part = pdf.stream(filters, data), more = pdf.stream("", "140 140 20 20 re f");
      pdf.page().media("[0 0 200 200]").entry("Contents", cut ? "[" + part.text() + " " + more.text() + "]" : part.text());
      auto const before = picture(pdf.bytes(), ""), after = picture(lay_all(pdf.bytes(), 0, 0), "");
      REQUIRE(before);
      REQUIRE(after);
      CHECK(before->at(70, 130) == 0);
      int differing = 0;
      for (int y = 0; y < 200; ++y)
        for (int x = 0; x < 200; ++x) differing += before->at(x, y) != after->at(x, y + 300);
      CHECK(differing == 0);
    }
}
