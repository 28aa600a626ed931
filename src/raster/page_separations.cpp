// fz_try is setjmp: nothing with a destructor lives inside it.
#include "raster/page_separations.h"

namespace layright {

fz_separations* spots_of(fz_context* c, fz_page* page) {
  fz_separations* separations = fz_page_separations(c, page);
  if (separations == nullptr) separations = fz_new_separations(c, 0);  // without any the library knocks out where it should overprint
  int const n = fz_count_separations(c, separations);
  for (int i = 0; i < n; ++i) fz_set_separation_behavior(c, separations, i, FZ_SEPARATION_SPOT);
  return separations;
}

fz_pixmap* draw_separations(fz_context* c, fz_page* page, CanvasFrame const& frame) {
  fz_separations* separations = nullptr;
  fz_pixmap* pixels = nullptr;
  fz_var(separations);
  fz_var(pixels);
  fz_try(c) {
    separations = spots_of(c, page);
    pixels = fz_new_pixmap_with_bbox(c, fz_device_cmyk(c), fz_make_irect(0, 0, frame.width, frame.height), separations, 0);
    fz_clear_pixmap(c, pixels);
    draw_on_canvas(c, page, frame, pixels);
  }
  fz_always(c) fz_drop_separations(c, separations);
  fz_catch(c) {
    fz_drop_pixmap(c, pixels);
    fz_rethrow(c);
  }
  return pixels;
}

std::vector<std::string> plane_names(fz_context* c, fz_pixmap const* pixels) {
  std::vector<std::string> names{"Cyan", "Magenta", "Yellow", "Black"};
  for (int i = 0; i < pixels->n - 4; ++i) {
    char const* const name = fz_separation_name(c, pixels->seps, i);
    names.emplace_back(name ? name : "");
  }
  return names;
}

}  // namespace layright
