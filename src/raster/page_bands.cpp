// fz_try is setjmp: nothing with a destructor lives inside it.
#include "raster/page_bands.h"

#include "mupdf/colour_transfer.h"
#include "raster/page_separations.h"

namespace layright {
namespace {

constexpr int kByMiddles = 9;  // the library's word for painting the pixels whose middle is inside; its 0 makes paths fatter, and closes gaps

/// Null where the library fails.
fz_display_list* list_of(fz_context* c, fz_page* page) {
  fz_display_list* list = nullptr;
  fz_device* device = nullptr;
  fz_var(list);
  fz_var(device);
  fz_try(c) {
    list = fz_new_display_list(c, fz_bound_page(c, page));
    device = fz_new_list_device(c, list);
    see_true_colours_when_listed(device);
    if (pdf_page* const own = pdf_page_from_fz_page(c, page)) pdf_run_page_with_usage(c, own, device, fz_identity, "Print", nullptr);
    else fz_run_page(c, page, device, fz_identity, nullptr);
    fz_close_device(c, device);
  }
  fz_always(c) fz_drop_device(c, device);
  fz_catch(c) {
    fz_drop_display_list(c, list);
    list = nullptr;
  }
  return list;
}

}  // namespace

PageBands::PageBands(fz_context* library, fz_page* page)
    : c_(library), page_(page), list_(list_of(library, page)), smooth_(fz_graphics_aa_level(library)), smooth_text_(fz_text_aa_level(library)) {
  fz_set_graphics_aa_level(c_, kByMiddles);
  fz_set_text_aa_level(c_, 0);
}

PageBands::~PageBands() {
  fz_set_graphics_aa_level(c_, smooth_);
  fz_set_text_aa_level(c_, smooth_text_);
  fz_drop_display_list(c_, list_);
}

fz_pixmap* PageBands::draw(fz_matrix ctm, fz_irect band, BandGround ground) { return drawn(ctm, band, fz_device_rgb(c_), false, ground); }

fz_pixmap* PageBands::draw_cover(fz_matrix ctm, fz_irect band) {
  return drawn(ctm, band, fz_device_gray(c_), false, BandGround::clear, GroupSpaces::of_painting);
}

fz_pixmap* PageBands::draw_inks(fz_matrix ctm, fz_irect band) { return drawn(ctm, band, fz_device_cmyk(c_), true, BandGround::paper); }

fz_pixmap* PageBands::drawn(fz_matrix ctm, fz_irect band, fz_colorspace* space, bool spots, BandGround ground, GroupSpaces groups) {
  fz_context* const c = c_;
  fz_irect const wide = fz_make_irect(band.x0 - kAround, band.y0 - kAround, band.x1 + kAround, band.y1 + kAround);
  fz_pixmap* pixels = nullptr;
  fz_device* painter = nullptr;
  fz_device* device = nullptr;
  fz_separations* inks = nullptr;
  fz_var(pixels);
  fz_var(painter);
  fz_var(device);
  fz_var(inks);
  fz_try(c) {
    if (spots) inks = spots_of(c, page_);
    pixels = fz_new_pixmap_with_bbox(c, space, wide, inks, ground == BandGround::clear ? 1 : 0);
    if (spots || ground == BandGround::clear) fz_clear_pixmap(c, pixels);
    else fz_clear_pixmap_with_value(c, pixels, 255);
    painter = fz_new_draw_device(c, fz_identity, pixels);
    device = new_guarded_device(c, painter, wide, groups);
    fz_run_display_list(c, list_, device, ctm, fz_rect_from_irect(wide), nullptr);
    fz_close_device(c, device);
  }
  fz_always(c) {
    fz_drop_device(c, device);
    fz_drop_device(c, painter);
    fz_drop_separations(c, inks);
  }
  fz_catch(c) {
    fz_drop_pixmap(c, pixels);
    pixels = nullptr;
  }
  return pixels;
}

}  // namespace layright
