#include "raster/letter_at.h"

namespace layright {
namespace {

struct Sought {
  fz_point at;
  int found;   // the character, 0: none
  float area;  // of its box: the smallest is taken
};

bool holds(fz_quad const& q, fz_point p) {
  fz_rect const r = fz_rect_from_quad(q);
  return p.x >= r.x0 && p.x <= r.x1 && p.y >= r.y0 && p.y <= r.y1;
}

void look(fz_stext_page const* text, Sought& sought) {
  for (fz_stext_block const* block = text->first_block; block != nullptr; block = block->next) {
    if (block->type != FZ_STEXT_BLOCK_TEXT) continue;
    for (fz_stext_line const* line = block->u.t.first_line; line != nullptr; line = line->next)
      for (fz_stext_char const* one = line->first_char; one != nullptr; one = one->next) {
        fz_rect const box = fz_rect_from_quad(one->quad);
        float const area = (box.x1 - box.x0) * (box.y1 - box.y0);
        if (one->c <= ' ' || !holds(one->quad, sought.at) || (sought.found != 0 && area >= sought.area)) continue;
        sought.found = one->c;
        sought.area = area;
      }
  }
}

}  // namespace

std::string letter_at(fz_context* c, fz_page* page, Point<SeenSpace> const& from_upper_left) {
  Sought sought{};
  fz_stext_page* text = nullptr;
  fz_device* device = nullptr;
  fz_var(text);
  fz_var(device);
  fz_try(c) {
    fz_rect const box = fz_bound_page(c, page);
    sought.at = {box.x0 + static_cast<float>(from_upper_left.x), box.y0 + static_cast<float>(from_upper_left.y)};
    text = fz_new_stext_page(c, box);
    device = fz_new_stext_device(c, text, nullptr);
    if (pdf_page* const own = pdf_page_from_fz_page(c, page)) pdf_run_page_with_usage(c, own, device, fz_identity, "Print", nullptr);
    fz_close_device(c, device);
    look(text, sought);
  }
  fz_always(c) {
    fz_drop_device(c, device);
    fz_drop_stext_page(c, text);
  }
  fz_catch(c) sought.found = 0;
  if (sought.found == 0 || sought.found == FZ_REPLACEMENT_CHARACTER) return "";
  char bytes[FZ_UTFMAX + 1] = {0};
  fz_runetochar(bytes, sought.found);
  return bytes;
}

}  // namespace layright
