#include "report/proof_module/cut_out.h"

#include <algorithm>

namespace layright {

CutOut cut_out(Rect<SeenSpace> const& where, double w, double h) {
  Rect<SeenSpace> const piece = where.grown(std::max(0.25 * std::min(where.width(), where.height()), 1.0));
  double const most = piece.height() > 2 * piece.width() ? 3 * h : h;
  double const scale = std::min(w / std::max(piece.width(), 1.0), most / std::max(piece.height(), 1.0));
  return {piece, scale, piece.height() * scale};
}

void draw_cut_out(ProofCanvas& pen, cairo_surface_t* pixels, PagePicture const& picture, Rect<SeenSpace> const& piece, double scale, double x,
                  double y, bool reversed) {
  double const k = 72 / picture.dpi * scale, w = piece.width() * scale;
  cairo_matrix_t m;
  if (reversed) cairo_matrix_init(&m, -k, 0, 0, k, x + w - (picture.area.x0 - piece.x0) * scale, y + (piece.y1 - picture.area.y1) * scale);
  else cairo_matrix_init(&m, k, 0, 0, k, x + (picture.area.x0 - piece.x0) * scale, y + (piece.y1 - picture.area.y1) * scale);
  pen.picture(pixels, m, x, y, w, piece.height() * scale);
}

}  // namespace layright
