// A page on a press that lays white, with the white plate that is made from it.
#pragma once
#include "check/art_view.h"

namespace layright::test {

/// On a press that lays white, with the white plate of the target made from the page.
struct PlatedPage : ArtPage {
  std::optional<PagePlate> plate;
  explicit PlatedPage(std::string const& content, PlateOptions const& options = {.from = PlateFrom::all}) : PlatedPage(page_of(content), options) {}
  PlatedPage(PdfMaker const& pdf, PlateOptions const& options) : ArtPage(pdf, true) {
    target.plate = options;
    NoPlate why{};
    plate = reader->plate(page, plate_wanted(target, &*placement), why);
    REQUIRE(plate);
  }
  std::vector<Finding> reported(std::string_view id) const {
    PageView view{page, &marks, reading, &*placement, target};
    view.plate = &plate->notes;
    return find_check(id)->page(view);
  }
  static PdfMaker page_of(std::string const& content) {
    PdfMaker pdf;
    pdf.page().content(content);
    return pdf;
  }
};

inline std::string const kBlock = "0.8 0.1 0.1 rg 100 100 200 200 re f ";
inline PlateOptions const kBarePlate{.from = PlateFrom::all, .thin = ThinLines::bare};

}  // namespace layright::test
