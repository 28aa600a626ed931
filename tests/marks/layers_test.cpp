// What layers show when printed: ISO 32000-1, 8.11. Every row is worked out by hand from the clause beside it; poppler and Ghostscript
// agree where the row says nothing else.
#include "marks/page_reading.h"

using namespace layright;
using namespace layright::test;

namespace {

struct LayerRow {
  char const* what;
  std::string owner;          // of the square: a layer or a membership; 10 0 R and 11 0 R stand for the two layers
  std::string configuration;  // the default one
  bool shows;
  bool differs = false;                 // readers are known to do otherwise
  std::string first = "", second = "";  // more entries of the layers
};

std::string replaced(std::string text, std::string const& from, std::string const& to) {
  for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) text.replace(at, from.size(), to);
  return text;
}

enum class Where { content, form, picture, annotation };

std::string page_with(LayerRow const& row, Where where) {
  PdfMaker pdf;
  auto const a = pdf.reserve(), b = pdf.reserve();
  auto const named = [&](std::string const& text) { return replaced(replaced(text, "10 0 R", a.text()), "11 0 R", b.text()); };
  pdf.fill(a, "<< /Type /OCG /Name (first) " + row.first + " >>");
  pdf.fill(b, "<< /Type /OCG /Name (second) " + row.second + " >>");
  pdf.catalog("OCProperties", named("<< /OCGs [10 0 R 11 0 R] /D << " + row.configuration + " >> /Configs [<< /OFF [10 0 R 11 0 R] >>] >>"));
  auto& page = pdf.page().media("[0 0 400 300]").content("0 0 1 rg 300 200 50 50 re f");
  std::string const square = "/Type /XObject /Subtype /Form /BBox [0 0 50 50]";
  switch (where) {
    case Where::content: page.use("Properties", "A", named(row.owner)).content("/OC /A BDC 1 0 0 rg 20 20 50 50 re f EMC"); break;
    case Where::form:
      page.use("XObject", "F", pdf.stream(square + " /OC " + named(row.owner), "1 0 0 rg 0 0 50 50 re f")).content("q 1 0 0 1 20 20 cm /F Do Q");
      break;
    case Where::picture:
      page.use("XObject", "I", pdf.image_rgb(1, 1, {255, 0, 0}, "/OC " + named(row.owner))).content("q 50 0 0 50 20 20 cm /I Do Q");
      break;
    case Where::annotation:
      page.annotation("/Type /Annot /Subtype /Stamp /F 4 /Rect [20 20 70 70] /OC " + named(row.owner) + " /AP << /N " +
                      pdf.stream(square, "1 0 0 rg 0 0 50 50 re f").text() + " >>");
  }
  return pdf.bytes();
}

std::string const kBoth = "/OCGs [10 0 R 11 0 R]";
std::string const kOff = "/OFF [11 0 R]";
std::string membership(std::string const& entries) { return "<< /Type /OCMD " + entries + " >>"; }
std::string usage(char const* category, char const* state) {
  return std::string("/Usage << /") + category + " << /" + category + "State /" + state + " >> >>";
}
std::string event(char const* name, char const* category, char const* layers) {
  return std::string("/AS [<< /Event /") + name + " /Category [/" + category + "] /OCGs [" + layers + "] >>]";
}

std::vector<LayerRow> const kLayerRows{
    // 8.11.4.3: the default configuration's states; other configurations are none
    {"on", "10 0 R", kOff, true},
    {"off", "11 0 R", kOff, false},
    {"base state off", "10 0 R", "/BaseState /OFF", false},
    {"base state off, switched on", "10 0 R", "/BaseState /OFF /ON [10 0 R]", true},
    {"base state unchanged", "10 0 R", "/BaseState /Unchanged", true},
    // 8.11.2.2, Table 99: policies
    {"all on", membership(kBoth + " /P /AllOn"), kOff, false},
    {"all on, both on", membership(kBoth + " /P /AllOn"), "", true},
    {"any on", membership(kBoth + " /P /AnyOn"), kOff, true},
    {"any on is what is meant where nothing is said", membership(kBoth), kOff, true},
    {"any on, none on", membership(kBoth), "/BaseState /OFF", false},
    {"any off", membership(kBoth + " /P /AnyOff"), kOff, true},
    {"any off, none off", membership(kBoth + " /P /AnyOff"), "", false},
    {"all off", membership(kBoth + " /P /AllOff"), kOff, false},
    {"all off, both off", membership(kBoth + " /P /AllOff"), "/BaseState /OFF", true},
    {"a single layer", membership("/OCGs 11 0 R"), kOff, false},
    {"a single layer, off wanted", membership("/OCGs 11 0 R /P /AllOff"), kOff, true},
    {"no layer that is there", membership("/OCGs [null]"), kOff, true},
    {"a layer beside none", membership("/OCGs [null 11 0 R]"), kOff, false},
    {"an empty list hides nothing", membership("/OCGs []"), kOff, true, true},
    // the same: expressions go before policies
    {"and", membership("/VE [/And 10 0 R 11 0 R]"), kOff, false, true},
    {"or", membership("/VE [/Or 10 0 R 11 0 R]"), kOff, true},
    {"not", membership("/VE [/Not 10 0 R]"), kOff, false, true},
    {"not off", membership("/VE [/Not 11 0 R]"), kOff, true},
    {"nested", membership("/VE [/Or [/And 10 0 R 11 0 R] [/Not 10 0 R]]"), kOff, false, true},
    {"before a policy", membership("/VE [/Not 10 0 R] " + kBoth), kOff, false, true},
    // 8.11.4.4 and 8.11.4.5: usage counts where an entry of AS for the print event asks for it
    {"print state, nobody asks", "10 0 R", "", true, true, usage("Print", "OFF")},
    {"print state off, asked for", "10 0 R", event("Print", "Print", "10 0 R"), false, true, usage("Print", "OFF")},
    {"print state on, asked for", "11 0 R", kOff + event("Print", "Print", "11 0 R"), true, true, "", usage("Print", "ON")},
    {"print state on, nobody asks", "11 0 R", kOff, false, true, "", usage("Print", "ON")},
    {"asked for when viewed", "10 0 R", event("View", "View", "10 0 R"), true, false, usage("View", "OFF")},
    {"asked for when exported", "10 0 R", event("Export", "Export", "10 0 R"), true, false, usage("Export", "OFF")},
    {"the view state, asked for when printed", "10 0 R", event("Print", "View", "10 0 R"), false, true, usage("View", "OFF")},
    {"asked for of another", "10 0 R", event("Print", "Print", "11 0 R"), true, true, usage("Print", "OFF")},
    {"asked for, and nothing said", "11 0 R", kOff + event("Print", "Print", "11 0 R"), false},
    // 8.11.2.3: a layer of another intent has no effect
    {"another intent", "11 0 R", kOff, true, true, "", "/Intent /Design"},
    {"two intents", "11 0 R", kOff, false, false, "", "/Intent [/Design /View]"},
    {"the intent asked for", "11 0 R", kOff + " /Intent /Design", false, false, "", "/Intent /Design"},
    {"all intents asked for", "11 0 R", kOff + " /Intent /All", false, false, "", "/Intent /Design"},
};

}  // namespace

TEST_CASE("layers show what the standard says, on content, forms, pictures and annotations") {
  for (auto const& row : kLayerRows)
    for (auto const where : {Where::content, Where::form, Where::picture, Where::annotation}) {
      if (where != Where::content && row.owner.find("/Span") != std::string::npos) continue;
      CAPTURE(row.what, static_cast<int>(where));
      auto const marks = marks_of(page_with(row, where));
      REQUIRE(marks.ink);
      CHECK((marks.ink->x0 < 100) == row.shows);
      // As a whole, forms and annotations that do not show are shown by many readers.
      bool const differs = row.differs || (where != Where::content && !row.shows);
      REQUIRE(marks.layers.size() == (differs ? 1 : 0));
      if (!differs) continue;
      CHECK(marks.layers[0].prints == row.shows);
      CHECK(std::abs(marks.layers[0].where.x0 - 20) < 1);
      CHECK(std::abs(marks.layers[0].where.y1 - 70) < 1);
    }
}

TEST_CASE("layers in each other: what is hidden outside hides all inside, and what is on inside shows only there") {
  PdfMaker pdf;
  auto const on = pdf.object("<< /Type /OCG /Name (on) >>"), off = pdf.object("<< /Type /OCG /Name (off) >>");
  pdf.catalog("OCProperties", "<< /OCGs [" + on.text() + " " + off.text() + "] /D << /OFF [" + off.text() + "] >> >>");
  auto& page = pdf.page().media("[0 0 400 300]").use("Properties", "On", on).use("Properties", "Off", off);
  SECTION("off outside") {
    page.content("/OC /Off BDC 10 10 20 20 re f /OC /On BDC 10 60 20 20 re f EMC /Span << /A 1 >> BDC 10 100 20 20 re f EMC EMC 200 100 20 20 re f");
    CHECK(marks_of(pdf).ink == Rect<SeenSpace>{200, 100, 220, 120});
  }
  SECTION("off inside") {
    page.content("/OC /On BDC 100 100 20 20 re f /OC /Off BDC 10 10 20 20 re f EMC 200 200 20 20 re f EMC");
    CHECK(marks_of(pdf).ink == Rect<SeenSpace>{100, 100, 220, 220});
  }
  SECTION("what it does to the graphics state stays") {
    page.content("/OC /Off BDC 1 g 2 0 0 2 0 0 cm EMC 0 g 10 10 20 20 re f");
    CHECK(marks_of(pdf).ink == Rect<SeenSpace>{20, 20, 60, 60});
  }
}

TEST_CASE("expressions without end, and layers of a file that has none, hide nothing and stop nothing") {
  PdfMaker pdf;
  auto const layer = pdf.object("<< /Type /OCG /Name (a) >>");
  auto const array = pdf.reserve();
  pdf.fill(array, "[/Not " + array.text() + "]");
  pdf.page()
      .media("[0 0 400 300]")
      .use("Properties", "A", "<< /Type /OCMD /VE " + array.text() + " >>")
      .content("/OC /A BDC 10 10 20 20 re f EMC 100 100 5 5 re f");
  SECTION("with layers") { pdf.catalog("OCProperties", "<< /OCGs [" + layer.text() + "] /D << /OFF [" + layer.text() + "] >> >>"); }
  SECTION("without") {}
  CHECK(marks_of(pdf).ink == Rect<SeenSpace>{10, 10, 105, 105});
}
