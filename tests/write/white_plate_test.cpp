// A white plate is put on a laid page, taken off again, and nothing else of the page changes.
#include "write/white_plate.h"

#include <catch2/catch.hpp>

#include "document/document.h"
#include "document/page_tree.h"
#include "support/pdf_maker.h"
#include "write/plate_proof.h"
#include "write/write_laid.h"

using namespace layright;
using namespace layright::test;

namespace {

std::span<std::byte const> span_of(std::string const& text) { return {reinterpret_cast<std::byte const*>(text.data()), text.size()}; }

std::unique_ptr<Document> read_again(std::string const& bytes) {
  auto document = Document::open(span_of(bytes), "test.pdf", "");
  REQUIRE(std::holds_alternative<std::unique_ptr<Document>>(document));
  return std::move(std::get<std::unique_ptr<Document>>(document));
}

ByteSink kept_in(std::string& text) {
  return [&text](std::span<std::byte const> bytes) {
    text.append(reinterpret_cast<char const*>(bytes.data()), bytes.size());
    return true;
  };
}

std::string laid_of(PdfMaker const& pdf) {
  auto const bytes = pdf.bytes();
  auto const document = read_again(bytes);
  LaidPage page;
  page.source = document->page(1);
  page.record.layright = "0";
  page.record.source_sha256 = std::string(64, '0');
  page.record.sheet = Sheet{}.page();
  page.record.source_seen = page.source.seen;
  page.record.reading = Reading::unknown;
  std::string laid;
  REQUIRE(write_laid(*document, std::vector{page}, Sheet{}, kept_in(laid)));
  return laid;
}

WhitePlate made_plate(std::string const& pixels = "\xF0") {
  PlatePicture picture;
  picture.width = 8;
  picture.height = 1;
  picture.data = pixels;  // not packed here: nobody looks inside
  return {picture, {100, 100, 200, 200}, "all 0.5pt keep half 600dpi White"};
}

std::string plated_of(std::string const& laid, WhitePlate const& white) {
  auto const document = read_again(laid);
  std::string plated;
  REQUIRE(write_plates(*document, {white}, {"White"}, kept_in(plated)));
  return plated;
}

}  // namespace

TEST_CASE("a plated page is the laid page and its plate") {
  PdfMaker pdf;
  pdf.page().content("0.5 g 10 10 50 50 re f");
  auto const laid = laid_of(pdf);
  auto const plated = plated_of(laid, made_plate());
  CHECK(prove_plates(*read_again(laid), *read_again(plated), {made_plate()}, {"White"}));
  auto const record = read_again(plated)->page(1).record;
  REQUIRE(record);
  CHECK(record->holds);
  CHECK(record->plate == plate_record(made_plate(), PlateAs::spot));
  CHECK(record->plate.starts_with("all 0.5pt keep half 600dpi White "));
}

TEST_CASE("another plate, another ink or another page is noticed") {
  PdfMaker pdf, other;
  pdf.page().content("0.5 g 10 10 50 50 re f");
  other.page().content("0.4 g 10 10 50 50 re f");
  auto const laid = laid_of(pdf);
  auto const plated = plated_of(laid, made_plate());
  CHECK_FALSE(prove_plates(*read_again(laid), *read_again(plated), {made_plate("\x0F")}, {"White"}));
  CHECK_FALSE(prove_plates(*read_again(laid), *read_again(plated), {made_plate()}, {"Blanc"}));
  CHECK_FALSE(prove_plates(*read_again(laid_of(other)), *read_again(plated), {made_plate()}, {"White"}));
  CHECK_FALSE(prove_plates(*read_again(laid), *read_again(laid), {made_plate()}, {"White"}));
  WhitePlate moved = made_plate();
  moved.where.x0 += 0.001;
  CHECK_FALSE(prove_plates(*read_again(laid), *read_again(plated), {moved}, {"White"}));
}

TEST_CASE("a page without white is left as it is") {
  PdfMaker pdf;
  pdf.page().content("");
  auto const laid = laid_of(pdf);
  auto const plated = plated_of(laid, {});
  CHECK(prove_plates(*read_again(laid), *read_again(plated), {WhitePlate{}}, {"White"}));
  CHECK(read_again(plated)->page(1).record->plate.empty());
}

TEST_CASE("a spot color of that name in the art is used as the art defines it") {
  PdfMaker pdf;
  pdf.page()
      .use("ColorSpace", "S", "[/Separation /White /DeviceRGB <</FunctionType 2 /Domain [0 1] /C0 [1 1 1] /C1 [0.9 0.8 0.9] /N 1>>]")
      .content("/S cs 1 scn 10 10 50 50 re f");
  auto const laid = laid_of(pdf), plated = plated_of(laid, made_plate());
  CHECK(prove_plates(*read_again(laid), *read_again(plated), {made_plate()}, {"White"}));
  auto const document = read_again(plated);
  auto space = document->tree().page(1).getKey("/Resources").getKey("/ColorSpace").getKey("/WhitePlate");
  CHECK(space.getArrayItem(2).isNameAndEquals("/DeviceRGB"));
}

namespace {

WhitePlate marked_plate() {
  auto plate = made_plate();
  plate.marks = {{30, 30}, {500, 30}};
  return plate;
}

}  // namespace

TEST_CASE("a plate on a page of its own leaves the art as it is but for its register marks") {
  PdfMaker pdf;
  pdf.page().content("0.5 g 10 10 50 50 re f");
  auto const laid = laid_of(pdf);
  auto const first = GENERATE(false, true);
  PlateForm const form{"White", PlateAs::page, first};
  auto const plates = std::vector{GENERATE(made_plate(), marked_plate(), WhitePlate{})};
  std::string plated;
  REQUIRE(write_plates(*read_again(laid), plates, form, kept_in(plated)));
  CHECK(prove_plates(*read_again(laid), *read_again(plated), plates, form));
  auto const document = read_again(plated);
  REQUIRE(document->page_count() == 2);
  CHECK(document->page(first ? 1 : 2).is_plate());
  CHECK_FALSE(document->page(first ? 2 : 1).is_plate());
  CHECK_FALSE(prove_plates(*read_again(laid), *read_again(plated), plates, {"White", PlateAs::page, !first}));
  CHECK_FALSE(prove_plates(*read_again(laid), *read_again(plated), {made_plate("\x0F")}, form));
  auto moved = plates;
  moved[0].marks.push_back({100, 700});
  CHECK_FALSE(prove_plates(*read_again(laid), *read_again(plated), moved, form));
}

TEST_CASE("a plate in a file of its own stands in black, and its art has register marks at the same places") {
  PdfMaker pdf;
  pdf.page().content("0.5 g 10 10 50 50 re f");
  auto const laid = laid_of(pdf);
  PlateForm const form{"White", PlateAs::file};
  std::vector const plates{marked_plate()};
  std::string plated, apart;
  REQUIRE(write_plates(*read_again(laid), plates, form, kept_in(plated)));
  REQUIRE(write_plate_file(*read_again(laid), plates, form, kept_in(apart)));
  CHECK(prove_plates(*read_again(laid), *read_again(plated), plates, form));
  CHECK(prove_plate_file(*read_again(apart), plates, form));
  CHECK_FALSE(prove_plate_file(*read_again(plated), plates, form));
  CHECK_FALSE(prove_plate_file(*read_again(apart), {made_plate()}, form));
  auto const document = read_again(apart);
  CHECK(document->page(1).is_plate());
  CHECK(document->page(1).seen.width == read_again(laid)->page(1).seen.width);
  auto space = document->tree().page(1).getKey("/Resources").getKey("/ColorSpace").getKey("/WhitePlate");
  CHECK(space.getArrayItem(2).isNameAndEquals("/DeviceGray"));
}
