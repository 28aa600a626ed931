// Runs a page through MuPDF once and gives its marks.
#pragma once
#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>

#include "base/result.h"
#include "document/page.h"
#include "marks/marks.h"
#include "plate/page_plate.h"
#include "raster/page_inks.h"
#include "raster/page_picture.h"
#include "raster/page_toner.h"
#include "raster/page_weed.h"

namespace layright {

class MarkListener;  // mupdf/mark_listener.h

/// What Marks::trouble says where all that is wrong are instructions that were passed over: all marks were reported.
inline constexpr char kPassedOver[] = "the page has instructions that cannot be carried out";

struct MarksWanted {
  bool ink = true;            // extents of ink (else only what the listener and the counts need)
  bool white_prints = false;  // paper-white marks are ink
  bool images = true, frames = true, cut = true;
  bool text = false;             // which way live text reads
  bool art = false;              // what checks of the art need (with `ink` only)
  double seconds = 6;            // of processor time; gives up after so long, between operators
  MarkListener* also = nullptr;  // hears each mark too
};

/// One context a process; not for several threads. Warnings of the library are kept, not printed. Throws nothing.
class MarksReader {
 public:
  /// `bytes` must outlive the reader. `read_on` is called again and again while many of them are read, and may not throw: whoever mapped them
  /// can let go of them.
  static Result<std::unique_ptr<MarksReader>> open(std::span<std::byte const> bytes, std::string const& password, std::function<void()> read_on = {});
  ~MarksReader();
  int page_count();
  /// The marks of page `page.number`, in the seen space of `page` (which must be usable, with a rotation).
  Marks read(Page const& page, MarksWanted const& wanted);
  /// Draws what the page prints inside `ink` (draw_page in page_picture.h). Nothing where the page cannot be read or drawn.
  std::optional<PagePicture> picture(Page const& page, Rect<SeenSpace> const& ink, double dpi, bool clear = false);
  /// The same of where its marks may be letters (letter_area.h), at the resolution that suits them; `marks` must have ink. Where white prints,
  /// clear is shown as a grey that the art has least of.
  std::optional<PagePicture> picture_of_letters(Page const& page, Marks const& marks, LiveText text, bool white_prints);
  /// How much of each ink a page takes (read_inks in page_inks.h). Nothing where the page cannot be read or drawn.
  std::optional<PageInks> inks(Page const& page, InksWanted const& wanted);
  /// How much of each toner a page takes (read_toner in page_toner.h). Nothing where the page cannot be read or drawn.
  std::optional<PageToner> toner(Page const& page, std::vector<std::string> const& own);
  /// What of a page is too small to weed (read_weed in page_weed.h). Nothing where the page cannot be read or drawn.
  std::optional<PageWeed> weed(Page const& page, Rect<SeenSpace> const& ink, WeedWanted const& wanted);
  /// The white plate of a page (make_plate in plate/page_plate.h).
  std::optional<PagePlate> plate(Page const& page, PlateWanted const& wanted, NoPlate& why);

 private:
  struct Members;
  template <class Read>
  auto on_page(Page const& page, Read&& read) -> decltype(read(nullptr));
  explicit MarksReader(std::unique_ptr<Members>);
  std::unique_ptr<Members> m_;
};

/// Loads what the library reads late (built-in fonts, tables) so that a sandbox may close afterwards.
void prepare_marks_library();

}  // namespace layright
