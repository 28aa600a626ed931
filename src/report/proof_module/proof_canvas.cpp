#include "report/proof_module/proof_canvas.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <pango/pangocairo.h>

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "raster/paper.h"
#include "report/not_made.h"

namespace layright {
namespace {

cairo_status_t append(void* to, unsigned char const* bytes, unsigned length) {
  static_cast<std::string*>(to)->append(reinterpret_cast<char const*>(bytes), length);
  return CAIRO_STATUS_SUCCESS;
}

void expect(cairo_status_t status) {
  if (status != CAIRO_STATUS_SUCCESS) throw NotMade(status == CAIRO_STATUS_NO_MEMORY ? "memory ran out" : "it cannot be drawn");
}

}  // namespace

ProofCanvas::ProofCanvas(ProofForm form, double dpi, double width, double height) : form_(form), typesetter_(pango_cairo_font_map_new()) {
  double const k = dpi / 72;
  switch (form) {
    case ProofForm::png:
      surface_ = cairo_image_surface_create(CAIRO_FORMAT_RGB24, static_cast<int>(std::lround(width * k)), static_cast<int>(std::lround(height * k)));
      break;
    case ProofForm::svg: surface_ = cairo_svg_surface_create_for_stream(append, &bytes_, width, height); break;
    case ProofForm::pdf: surface_ = cairo_pdf_surface_create_for_stream(append, &bytes_, width, height); break;
  }
  expect(cairo_surface_status(surface_));
  cairo_ = cairo_create(surface_);
  if (form == ProofForm::png) cairo_scale(cairo_, k, k);
  rectangle(0, 0, width, height, kWhite);
}

ProofCanvas::~ProofCanvas() {
  if (cairo_) cairo_destroy(cairo_);
  if (surface_) cairo_surface_destroy(surface_);
}

void ProofCanvas::next_page(double width, double height) {
  cairo_show_page(cairo_);
  cairo_pdf_surface_set_size(surface_, width, height);
  rectangle(0, 0, width, height, kWhite);
}

std::string ProofCanvas::finish() {
  expect(cairo_status(cairo_));
  if (form_ == ProofForm::png) {
    expect(cairo_surface_write_to_png_stream(surface_, append, &bytes_));
  } else {
    cairo_surface_finish(surface_);
    expect(cairo_surface_status(surface_));
  }
  return std::move(bytes_);
}

void ProofCanvas::rectangle(double x, double y, double w, double h, Ink fill) {
  set(fill);
  cairo_rectangle(cairo_, x, y, w, h);
  cairo_fill(cairo_);
}

void ProofCanvas::outline(double x, double y, double w, double h, Ink stroke, double width, std::vector<double> const& dashes) {
  set(stroke);
  cairo_set_line_width(cairo_, width);
  cairo_set_dash(cairo_, dashes.data(), static_cast<int>(dashes.size()), 0);
  cairo_rectangle(cairo_, x, y, w, h);
  cairo_stroke(cairo_);
  cairo_set_dash(cairo_, nullptr, 0, 0);
}

void ProofCanvas::polygon(std::vector<std::pair<double, double>> const& corners, Ink fill, Ink stroke, double width) {
  cairo_new_path(cairo_);  // text leaves a point behind
  for (auto const& [x, y] : corners) cairo_line_to(cairo_, x, y);
  cairo_close_path(cairo_);
  set(fill);
  cairo_fill_preserve(cairo_);
  set(stroke);
  cairo_set_line_width(cairo_, width);
  cairo_stroke(cairo_);
}

void ProofCanvas::disc(double x, double y, double radius, Ink fill, Ink stroke, double width) {
  cairo_new_path(cairo_);
  cairo_arc(cairo_, x, y, radius, 0, 6.283185307179586);
  set(fill);
  cairo_fill_preserve(cairo_);
  set(stroke);
  cairo_set_line_width(cairo_, width);
  cairo_stroke(cairo_);
}

void ProofCanvas::line(double x0, double y0, double x1, double y1, Ink stroke, double width) {
  set(stroke);
  cairo_set_line_width(cairo_, width);
  cairo_move_to(cairo_, x0, y0);
  cairo_line_to(cairo_, x1, y1);
  cairo_stroke(cairo_);
}

void ProofCanvas::rimmed_line(double x0, double y0, double x1, double y1, Ink stroke, double width) {
  line(x0, y0, x1, y1, kWhite, width + 2 * kRim);
  line(x0, y0, x1, y1, stroke, width);
}

void ProofCanvas::rimmed_outline(double x, double y, double w, double h, Ink stroke, double width, std::vector<double> const& dashes) {
  outline(x, y, w, h, kWhite, width + 2 * kRim);
  outline(x, y, w, h, stroke, width, dashes);
}

void ProofCanvas::tick(double x, double y, double size, Ink stroke) {
  set(stroke);
  cairo_set_line_width(cairo_, size * 0.22);
  cairo_move_to(cairo_, x, y + size * 0.55);
  cairo_line_to(cairo_, x + size * 0.36, y + size * 0.88);
  cairo_line_to(cairo_, x + size, y + size * 0.08);
  cairo_stroke(cairo_);
}

std::string ProofCanvas::cut(std::string const& text, double width, double size) {
  auto const lines = broken(text, width, size);
  return lines.size() > 1 ? lines[0] + " …" : text;
}

void ProofCanvas::text(double x, double y, std::string const& text, double size, Ink ink, bool bold) {
  auto const line = typesetter_.set(text, size, bold ? Face::bold : Face::regular);
  set(ink);
  cairo_move_to(cairo_, x, y);
  pango_cairo_show_layout_line(cairo_, pango_layout_get_line_readonly(line.get(), 0));
}

void ProofCanvas::picture(cairo_surface_t* pixels, cairo_matrix_t const& to_points, double x, double y, double w, double h) {
  cairo_save(cairo_);
  cairo_rectangle(cairo_, x, y, w, h);
  cairo_clip(cairo_);
  cairo_transform(cairo_, &to_points);
  cairo_set_source_surface(cairo_, pixels, 0, 0);
  cairo_pattern_set_filter(cairo_get_source(cairo_), CAIRO_FILTER_GOOD);
  cairo_paint(cairo_);
  cairo_restore(cairo_);
}

void ProofCanvas::clip_hatch(double x, double y, double w, double h, double hole_x, double hole_y, double hole_w, double hole_h) {
  constexpr double kStep = 5;
  cairo_save(cairo_);
  cairo_set_fill_rule(cairo_, CAIRO_FILL_RULE_EVEN_ODD);
  cairo_rectangle(cairo_, x, y, w, h);
  cairo_rectangle(cairo_, hole_x, hole_y, hole_w, hole_h);
  cairo_clip(cairo_);
  for (double at = x - h; at < x + w; at += kStep) line(at, y + h, at + h, y, kPale, 0.5);
  cairo_restore(cairo_);
}

namespace {

/// `value` gives a pixel of the picture, from its number and its alpha, as cairo keeps it.
template <class Value>
cairo_surface_t* pixels_of(PagePicture const& picture, Value const& value) {
  cairo_surface_t* const surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, picture.width, picture.height);
  expect(cairo_surface_status(surface));
  unsigned char* const rows = cairo_image_surface_get_data(surface);
  int const stride = cairo_image_surface_get_stride(surface);
  std::size_t at = 0;
  for (int y = 0; y < picture.height; ++y) {
    auto* const row = reinterpret_cast<std::uint32_t*>(rows + static_cast<std::ptrdiff_t>(y) * stride);
    for (int x = 0; x < picture.width; ++x, ++at) row[x] = value(x, y, at);
  }
  cairo_surface_mark_dirty(surface);
  return surface;
}

bool is_white(PagePicture const& picture, std::size_t at) {
  return is_paper_white(picture.rgb[3 * at], picture.rgb[3 * at + 1], picture.rgb[3 * at + 2]);
}

std::uint32_t alpha_of(PagePicture const& picture, std::size_t at) { return picture.alpha.empty() ? 255 : picture.alpha[at]; }

std::uint32_t mixed(std::uint32_t a, std::uint32_t r, std::uint32_t g, std::uint32_t b) {
  auto const part = [a](std::uint32_t v) { return (v * a + 127) / 255; };
  return a << 24 | part(r) << 16 | part(g) << 8 | part(b);
}

}  // namespace

cairo_surface_t* cairo_pixels(PagePicture const& picture, PaperWhite white) {
  return pixels_of(picture, [&](int, int, std::size_t at) {
    std::uint32_t const a = white == PaperWhite::clear && is_white(picture, at) ? 0 : alpha_of(picture, at);
    return mixed(a, picture.rgb[3 * at], picture.rgb[3 * at + 1], picture.rgb[3 * at + 2]);
  });
}

cairo_surface_t* striped_white(PagePicture const& picture, std::vector<Rect<SeenSpace>> const& places, double points) {
  double const wide = std::max(1.0, points * picture.dpi / 72);
  return pixels_of(picture, [&](int x, int y, std::size_t at) -> std::uint32_t {
    if (alpha_of(picture, at) < 128 || !is_white(picture, at) || std::fmod((x + y) / wide, 2) >= 1) return 0;
    auto const where = picture.on_page(x, y, x + 1, y + 1);
    bool const lost = std::ranges::any_of(places, [&](auto const& place) { return intersection(place, where).has_value(); });
    return lost ? mixed(255, 255, 176, 0) : 0;
  });
}

}  // namespace layright
