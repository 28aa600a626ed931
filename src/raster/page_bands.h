// A page drawn as a press makes it, band by band: a pixel is painted wholly, where its middle lies inside a mark, or not at all.
#pragma once
#include "mupdf/guarded_device.h"
#include "mupdf/library.h"

namespace layright {

/// What the bands lie on: white paper, or nothing. On nothing they have an alpha, which colours come times.
enum class BandGround { paper, clear };

/// While one lives, the library draws all by the middles of pixels. Not for several at once.
class PageBands {
 public:
  /// The page as printed; `library` and `page` must outlive it.
  PageBands(fz_context* library, fz_page* page);
  ~PageBands();
  PageBands(PageBands const&) = delete;
  PageBands& operator=(PageBands const&) = delete;
  /// False where the library failed to read the page.
  bool good() const { return list_ != nullptr; }
  /// The pixels of `band` and kAround to each side of it, eight bits a colour (and the alpha), `ctm` taking the page to pixels. The caller drops
  /// it. Null where the library fails.
  fz_pixmap* draw(fz_matrix ctm, fz_irect band, BandGround ground);
  /// The same in a gray and its alpha, on nothing: for who asks only where there is ink. Half the memory.
  fz_pixmap* draw_cover(fz_matrix ctm, fz_irect band);
  /// The same in the inks of the process and each spot color: a plane for each, and no alpha.
  fz_pixmap* draw_inks(fz_matrix ctm, fz_irect band);
  static constexpr int kAround = 4;

 private:
  fz_pixmap* drawn(fz_matrix ctm, fz_irect band, fz_colorspace* space, bool spots, BandGround ground, GroupSpaces groups = GroupSpaces::own);

  fz_context* c_;
  fz_page* page_;
  fz_display_list* list_;
  int smooth_, smooth_text_;
};

}  // namespace layright
