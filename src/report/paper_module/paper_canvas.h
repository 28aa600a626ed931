// Draws words, lines and pictures on pages by PoDoFo, one after another. Points, origin lower left.
#pragma once
#include <podofo/podofo.h>

#include <deque>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "report/job_sheet.h"
#include "report/paper_module/embedded_font.h"
#include "report/typeset/typesetter.h"

namespace layright {

class PaperCanvas {
 public:
  /// Throws PoDoFo::PdfError, or std::runtime_error when the packaged font is missing.
  PaperCanvas(double width, double height, std::string const& title, std::string const& date);

  double width(std::string_view utf8, double size, Face face = Face::regular) { return typesetter_.width(utf8, size, face); }
  /// One line from (x, baseline) on.
  void text(double x, double baseline, std::string_view utf8, double size, Face face = Face::regular, double grey = 0);
  /// The same, in the middle of x.
  void centred(double x, double baseline, std::string_view utf8, double size, Face face = Face::regular, double grey = 0) {
    text(x - width(utf8, size, face) / 2, baseline, utf8, size, face, grey);
  }
  std::vector<std::string> wrapped(std::string_view utf8, double room, double size, Face face = Face::regular) {
    return typesetter_.lines(utf8, room, size, face);
  }

  void line(double x0, double y0, double x1, double y1, double thick = 0.5, double grey = 0, bool dashed = false);
  /// In an ink of its own, over all that lies beneath it, which stays.
  void line_in_ink(std::string const& ink, double x0, double y0, double x1, double y1, double thick);
  void box(double x0, double y0, double x1, double y1, double thick = 0.5, double grey = 0, bool dashed = false);
  void fill(double x0, double y0, double x1, double y1, double grey);
  void polygon(std::vector<std::pair<double, double>> const& points, double grey = 0);
  void picture(LaidPicture const& picture, double x0, double y0, double x1, double y1);
  /// What is drawn from here to end_mirrored() is seen as in a mirror that stands upright, its left edge and its right one `sum` apart together.
  void mirrored(double sum);
  void end_mirrored();
  /// For a page that is printed as large as it is: it says so, and that it ends at its edges.
  void print_as_it_is();
  /// What is drawn from here on is on another page of the same size.
  void next_page();
  /// Ends the page and gives the document.
  std::string finish();

 private:
  EmbeddedFont& embedded(PangoFont* font);
  void show(PangoGlyphItem* run, char const* utf8, double x, double baseline, double size);

  Typesetter typesetter_;
  PoDoFo::PdfMemDocument document_;
  PoDoFo::PdfPainter painter_;
  PoDoFo::PdfPage* page_ = nullptr;
  double page_width_, page_height_;
  bool has_ink_ = false;
  std::deque<EmbeddedFont> fonts_;
  std::set<EmbeddedFont const*> on_page_;  // of the fonts, those that this page has among its resources
};

}  // namespace layright
