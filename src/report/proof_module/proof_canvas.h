// Draws with cairo onto a picture, an SVG or a PDF, in points, y down from the upper left.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include <cairo.h>

#include "raster/page_picture.h"
#include "report/proof.h"
#include "report/typeset/typesetter.h"

namespace layright {

struct Ink {
  double r, g, b;
};
/// Dark enough on white for 7 to 1 (WCAG 2.2, 1.4.6).
inline constexpr Ink kInk{0.10, 0.11, 0.13}, kQuiet{0.30, 0.32, 0.35}, kPale{0.72, 0.74, 0.77}, kWhite{1, 1, 1};
inline constexpr double kRim = 1.2;  // points on either side of a line

class ProofCanvas {
 public:
  /// Throws std::runtime_error where cairo cannot.
  ProofCanvas(ProofForm form, double dpi, double width, double height);
  ~ProofCanvas();
  ProofCanvas(ProofCanvas const&) = delete;
  ProofCanvas& operator=(ProofCanvas const&) = delete;

  /// The next page, of its own size; PDF only.
  void next_page(double width, double height);
  /// Ends the drawing and gives its bytes.
  std::string finish();

  void rectangle(double x, double y, double w, double h, Ink fill);
  void outline(double x, double y, double w, double h, Ink stroke, double width, std::vector<double> const& dashes = {});
  void polygon(std::vector<std::pair<double, double>> const& corners, Ink fill, Ink stroke, double width);
  void disc(double x, double y, double radius, Ink fill, Ink stroke, double width);
  void line(double x0, double y0, double x1, double y1, Ink stroke, double width);
  /// Seen on whatever lies beneath: the line has a white rim.
  void rimmed_line(double x0, double y0, double x1, double y1, Ink stroke, double width);
  void rimmed_outline(double x, double y, double w, double h, Ink stroke, double width, std::vector<double> const& dashes);
  /// A tick, as one that is drawn by hand, in a box of `size` that begins at its upper left.
  void tick(double x, double y, double size, Ink stroke);
  /// `y` is the line's foot. What is no UTF-8 must be made visible before.
  void text(double x, double y, std::string const& text, double size, Ink ink, bool bold = false);
  double width_of(std::string const& text, double size, bool bold = false) {
    return typesetter_.width(text, size, bold ? Face::bold : Face::regular);
  }
  /// Broken into lines no wider than `width`; words that are wider are broken anywhere.
  std::vector<std::string> broken(std::string const& text, double width, double size) { return typesetter_.lines(text, width, size, Face::regular); }
  /// Its first line, and that it goes on.
  std::string cut(std::string const& text, double width, double size);
  /// The picture under the matrix that takes its pixels to points; inside the rectangle only.
  void picture(cairo_surface_t* pixels, cairo_matrix_t const& to_points, double x, double y, double w, double h);
  void clip_hatch(double x, double y, double w, double h, double hole_x, double hole_y, double hole_w, double hole_h);

 private:
  void set(Ink ink) { cairo_set_source_rgb(cairo_, ink.r, ink.g, ink.b); }
  ProofForm form_;
  Typesetter typesetter_;
  std::string bytes_;
  cairo_surface_t* surface_ = nullptr;
  cairo_t* cairo_ = nullptr;
};

/// What becomes of paper-white pixels.
enum class PaperWhite { kept, clear };
/// A page's picture as cairo wants its pixels. The caller destroys it.
cairo_surface_t* cairo_pixels(PagePicture const& picture, PaperWhite white);
/// Only stripes, about `points` wide on paper, where white is painted inside the places.
cairo_surface_t* striped_white(PagePicture const& picture, std::vector<Rect<SeenSpace>> const& places, double points);

}  // namespace layright
