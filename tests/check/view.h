// A page as a check sees it, made by hand: what the document and marks folders would give, without a file.
#pragma once
#include <catch2/catch.hpp>
#include <memory>

#include "check/check.h"
#include "check/rows.h"
#include "support/pdf_maker.h"

namespace layright::test {

using Catch::Matchers::Contains;

/// The narrow sheet, 8.5 x 17 in with a quarter inch all round (common practice, no published source): 612 x 1224 pt, live area
/// 18,18 to 594,1206. Change what the test is about, then look at what a check says.
struct View {
  Page page;
  Marks marks;
  PageReading reading;
  Target target;
  std::optional<PlaceResult> placement;
  Unit unit = Unit::inch;
  bool with_marks = true;

  View() { sized(612, 1224); }
  explicit View(Page p) : page(std::move(p)) {}

  /// A page of this size with nothing odd about it.
  View& sized(double width, double height) {
    page.boxes.media = page.boxes.crop = page.boxes.bleed = page.boxes.trim = page.boxes.art = {0, 0, width, height};
    page.to_seen = page_to_seen(page.boxes.crop, Turn::none, 1);
    page.seen = seen_size(page.boxes.crop, Turn::none, 1);
    return *this;
  }
  View& ink(double x0, double y0, double x1, double y1) {
    marks.ink = Rect<SeenSpace>{x0, y0, x1, y1};
    marks.count = 1;
    return *this;
  }
  /// What `lay` would do with the page as it is now.
  View& placed() {
    placement = place({marks.ink, page.seen_trim(), page.seen.rect()}, target.sheet, target.placement, false, target.reverse_at != ReverseAt::file,
                      unit, target.limits.margin_tolerance);
    return *this;
  }
  PageView view() const { return {page, with_marks ? &marks : nullptr, reading, placement ? &*placement : nullptr, target, unit}; }
  std::vector<Finding> findings(std::string_view id) const {
    auto const* check = find_check(id);
    REQUIRE(check);
    REQUIRE(check->page);
    return check->page(view());
  }
  bool silent(std::string_view id) const { return findings(id).empty(); }
  /// The only finding of this check.
  Finding finding(std::string_view id) const {
    auto const all = findings(id);
    REQUIRE(all.size() == 1);
    CHECK(all[0].check == id);
    CHECK_FALSE(all[0].message.empty());
    return all[0];
  }
};

/// A figure by its name; fails the test where there is none.
inline double number(Figures const& figures, std::string_view name) {
  for (auto const& [key, value] : figures) {
    if (key == name) return std::get<double>(value);
  }
  FAIL("no figure of that name");
  return 0;
}
inline std::string text(Figures const& figures, std::string_view name) {
  for (auto const& [key, value] : figures) {
    if (key == name) return std::get<std::string>(value);
  }
  FAIL("no figure of that name");
  return "";
}

/// A file that is opened for real.
struct OpenFile {
  std::string bytes;
  std::unique_ptr<Document> document;
  Target target;
  std::vector<SeenSize> sizes;
  std::vector<std::string> losses;

  explicit OpenFile(std::string b, std::string const& password = "") : bytes(std::move(b)) {
    auto opened = Document::open(bytes_of(bytes), "test.pdf", password);
    if (auto const* trouble = std::get_if<OpenError>(&opened)) FAIL(trouble->message);
    document = std::move(std::get<std::unique_ptr<Document>>(opened));
  }
  FileView view() const { return {*document, target, sizes, losses, Unit::inch}; }
  std::vector<Finding> findings(std::string_view id) const {
    auto const* check = find_check(id);
    REQUIRE(check);
    REQUIRE(check->file);
    return check->file(view());
  }
  bool silent(std::string_view id) const { return findings(id).empty(); }
  Finding finding(std::string_view id) const {
    auto const all = findings(id);
    REQUIRE(all.size() == 1);
    CHECK(all[0].check == id);
    return all[0];
  }
};

/// Page 1 of a file that is made on the spot.
inline View page_of(PdfMaker const& pdf) {
  OpenFile const file(pdf.bytes());
  return View(file.document->page(1));
}

}  // namespace layright::test
