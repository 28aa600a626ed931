// A page with the notes of its art: a real file, read and placed as the program does it.
#pragma once
#include <array>

#include "check/art.h"
#include "check/view.h"
#include "marks/reader.h"

namespace layright::test {

struct ArtPage {
  std::string bytes;
  std::unique_ptr<Document> document;
  std::unique_ptr<MarksReader> reader;
  Page page;
  Marks marks;
  PageReading reading;
  Target target;
  std::optional<PlaceResult> placement;
  ArtStructure structure;
  FileArt file;
  std::optional<PageInks> inks;  // read_inks() first
  std::optional<PageWeed> weed;  // read_weed() first

  explicit ArtPage(PdfMaker const& pdf, bool white_prints = false, double percent = 100) : bytes(pdf.bytes()) {
    auto opened = Document::open(bytes_of(bytes), "test.pdf", "");
    if (auto const* trouble = std::get_if<OpenError>(&opened)) FAIL(trouble->message);
    document = std::move(std::get<std::unique_ptr<Document>>(opened));
    auto opened_marks = MarksReader::open(bytes_of(bytes), "");
    REQUIRE(opened_marks.has_value());
    reader = std::move(*opened_marks);
    page = document->page(1);
    MarksWanted wanted;
    wanted.art = true;
    wanted.white_prints = white_prints;
    marks = reader->read(page, wanted);
    REQUIRE(marks.art);
    structure = document->art_of_page(1);
    file = document->art();
    target.press.prints_white = white_prints;
    target.placement.scale = PlacementOptions::Scale::percent;
    target.placement.percent = percent;
    target.placement.allow_outside = true;
    placement = place({marks.ink, page.seen_trim(), page.seen.rect()}, target.sheet, target.placement, false, false, Unit::inch,
                      target.limits.margin_tolerance);
  }
  std::vector<Finding> findings(std::string_view id) const {
    auto const* check = find_check(id);
    REQUIRE(check);
    return check->page({page, &marks, reading, &*placement, target, Unit::inch, &structure, &file, inks ? &*inks : nullptr, weed ? &*weed : nullptr});
  }
  ArtPage& read_inks() {
    inks = reader->inks(page, {target.limits.total_ink_pct, target.limits.white_inks, target.limits.white_under_pct});
    REQUIRE(inks);
    return *this;
  }
  ArtPage& read_weed() {
    REQUIRE(marks.ink);
    weed = reader->weed(page, *marks.ink, weed_wanted(target, &*placement));
    REQUIRE(weed);
    return *this;
  }
  bool silent(std::string_view id) const { return findings(id).empty(); }
  Finding finding(std::string_view id) const {
    auto const all = findings(id);
    REQUIRE(all.size() == 1);
    CHECK(all[0].check == id);
    CHECK(all[0].message.size() > 40);
    return all[0];
  }
};

/// How a page may be turned, measured and scaled; art of a given size on the page comes out `factor` times as large on the sheet.
struct Shown {
  char const* rotate;
  char const* unit;
  double percent, factor;
};
inline std::array<Shown, 5> const kShown{{{"0", "1", 100, 1}, {"90", "1", 100, 1}, {"0", "2", 100, 2}, {"270", "1", 50, 0.5}, {"180", "2", 75, 1.5}}};

/// Writes a number as PDF takes it.
inline std::string real(double v) { return format_number(v, 6); }

/// A filled rectangle.
inline std::string filled_box(double x, double y, double w, double h) { return real(x) + " " + real(y) + " " + real(w) + " " + real(h) + " re f "; }

/// A pixel of a press that says nothing of its resolution, in points as printed.
inline constexpr double kPixel = 72.0 / 600;

/// Asks a page that is made for sizes a little under and a little over the limit, as printed, however the page is shown. `make` gets the
/// size on the page, in points.
template <class Make>
void fires_below(std::string_view id, double limit_pt, Make&& make) {
  for (auto const& shown : kShown) {
    CAPTURE(id, shown.rotate, shown.unit, shown.percent);
    auto const page = [&](double printed) {
      PdfMaker pdf;
      make(pdf, pdf.page().rotate(shown.rotate).user_unit(shown.unit), printed / shown.factor);
      return ArtPage(pdf, false, shown.percent);
    };
    CHECK(page(limit_pt * 1.005).silent(id));
    CHECK(page(limit_pt).silent(id));
    CHECK(page(limit_pt * 0.995).findings(id).size() == 1);
  }
}

/// Whether a place lies on what it should, within two points: strokes come with the room that a mitre might take.
inline bool lies_on(std::optional<Rect<SeenSpace>> const& where, Rect<SeenSpace> const& wanted) {
  return where && wanted.contains(*where, 2) && where->contains(wanted, 2);
}

}  // namespace layright::test
