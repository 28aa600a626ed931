// Boxes, rotation and unit as raw text in a page, then its placement on a sheet.
//
// Input: lines. MediaBox, CropBox, TrimBox, Rotate, UserUnit as they stand in the file; then a line of words for the placement.
#include <cmath>
#include <cstdint>
#include <sstream>
#include <string>

#include "document/document.h"
#include "fuzz/require.h"
#include "place/place.h"
#include "support/pdf_maker.h"

using namespace layright;
using test::require;

namespace {

std::string line_of(std::istringstream& lines) {
  std::string line;
  std::getline(lines, line);
  return line;
}

/// A page with these entries, an empty one left out.
std::string page_with(std::istringstream& lines) {
  test::PdfMaker pdf;
  auto& page = pdf.page().without_media();
  for (auto const* key : {"MediaBox", "CropBox", "TrimBox", "Rotate", "UserUnit"}) {
    auto const value = line_of(lines);
    if (!value.empty()) page.entry(key, value);
  }
  return pdf.bytes();
}

struct Wanted {
  PlacementOptions options;
  Sheet sheet;
  bool reverse = false, later = false;
};

/// Single letters choose; a number sets a percentage.
Wanted wanted_by(std::string const& words) {
  Wanted w;
  for (char const c : words) {
    if (c == 'f') w.options.scale = PlacementOptions::Scale::fit;
    if (c == 's') w.options.scale = PlacementOptions::Scale::shrink;
    if (c >= '1' && c <= '9') w.options.scale = PlacementOptions::Scale::percent, w.options.percent = 20 * (c - '0');
    if (c == 't') w.options.by = PlaceBy::trim;
    if (c == 'p') w.options.by = PlaceBy::page;
    if (c == 'q') w.options.turn = Turn::quarter;
    if (c == 'h') w.options.turn = Turn::half;
    if (c == 'l') w.sheet.feed = Feed::long_edge;
    if (c == 'b') w.options.at = Anchor::bottom_right;
    if (c == 'o') w.options.offset_x = Length::points(7);
    if (c == 'r') w.reverse = true;
    if (c == 'm') w.later = true;
  }
  return w;
}

void check_placement(Placement const& p, Page const& page, Rect<SeenSpace> const& ink, Wanted const& w) {
  require(std::isfinite(p.matrix.a) && std::isfinite(p.matrix.e) && std::isfinite(p.matrix.f), "a placement is finite");
  require(p.matrix.mirrors() == w.reverse, "it reverses as asked");
  require(p.scale > 0, "it has a scale");
  auto const laid = p.matrix.apply(ink);
  require(live_area_of_file(w.sheet, w.later).contains(laid, 0.011), "ink lies in the live area");
  auto const back = p.matrix.inverted();
  // How exactly the way back can be known depends on the size of the page.
  double const slack = 1e-9 * (1 + page.seen.width + page.seen.height);
  require(back && back->apply(laid).contains(ink, slack) && ink.contains(back->apply(laid), slack), "the way back leads back");
}

void check_page(Page const& page, Wanted const& w) {
  require(page.boxes.media.finite() && page.boxes.crop.finite(), "boxes of a usable page are finite");
  require(page.seen.width > 0 && page.seen.height > 0 && std::isfinite(page.seen.width * page.seen.height), "something is seen");
  auto const seen = page.to_seen.apply(page.boxes.crop);
  // A far origin costs digits.
  auto const& crop = page.boxes.crop;
  double const reach = std::max({std::abs(crop.x0), std::abs(crop.y0), std::abs(crop.x1), std::abs(crop.y1)}) * page.user_unit;
  double const slack = 1e-9 * (1 + reach);
  require(page.seen.rect().contains(seen, slack) && seen.contains(page.seen.rect(), slack), "what is seen starts at the origin");
  Rect<SeenSpace> const ink{page.seen.width * 0.25, page.seen.height * 0.125, page.seen.width * 0.75, page.seen.height * 0.5};
  auto const result = place({ink, page.seen_trim(), page.seen.rect()}, w.sheet, w.options, w.reverse, w.later, Unit::inch);
  if (auto const* placement = std::get_if<Placement>(&result)) check_placement(*placement, page, ink, w);
  else require(!std::get<PlaceRefusal>(result).message.empty(), "a refusal says why");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size) {
  if (size > 4096) return 0;
  std::istringstream lines(std::string(reinterpret_cast<char const*>(data), size));
  auto const bytes = page_with(lines);
  auto const wanted = wanted_by(line_of(lines));
  auto const opened = Document::open(test::bytes_of(bytes), "boxes.pdf", "");
  auto const* document = std::get_if<std::unique_ptr<Document>>(&opened);
  if (!document || (*document)->page_count() < 1) return 0;
  auto const page = (*document)->page(1);
  if (page.usable && page.clockwise) check_page(page, wanted);
  else require(!page.trouble.empty() || !page.clockwise, "a page that cannot be used says why");
  return 0;
}
