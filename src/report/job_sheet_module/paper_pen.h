// Draws words, lines and a picture on one page by PoDoFo. Points, origin lower left.
#pragma once
#include <podofo/podofo.h>

#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "report/job_sheet.h"
#include "report/job_sheet_module/script_runs.h"
#include "report/job_sheet_module/shaped.h"

namespace layright {

enum class Face { regular, bold };

class PaperPen {
 public:
  /// Throws PoDoFo::PdfError, or std::runtime_error when the packaged font is missing.
  PaperPen(double width, double height, std::string const& title, std::string const& date);

  double width(std::string_view utf8, double size, Face face = Face::regular);
  /// Draws one line from (x, baseline) and gives where it ends.
  double text(double x, double baseline, std::string_view utf8, double size, Face face = Face::regular, double grey = 0);
  /// Breaks at blanks, and inside words that are longer than a line; at least one line.
  std::vector<std::string> wrapped(std::string_view utf8, double room, double size, Face face = Face::regular);

  void line(double x0, double y0, double x1, double y1, double thick = 0.5, double grey = 0, bool dashed = false);
  void box(double x0, double y0, double x1, double y1, double thick = 0.5, double grey = 0, bool dashed = false);
  void fill(double x0, double y0, double x1, double y1, double grey);
  void polygon(std::vector<std::pair<double, double>> const& points, double grey = 0);
  void picture(LaidPicture const& picture, double x0, double y0, double x1, double y1);
  /// Ends the page and gives the document.
  std::string finish();

 private:
  std::vector<Stretch> const& cut(std::string_view utf8);
  double stretch_width(Stretch const& stretch, double size, Face face);
  PoDoFo::PdfFont* font(Face face, double size);

  PoDoFo::PdfMemDocument document_;
  PoDoFo::PdfPainter painter_;
  PoDoFo::PdfFont* fonts_[2] = {nullptr, nullptr};
  std::map<std::uint32_t, bool> in_font_;
  std::map<std::string, std::vector<Stretch>, std::less<>> cuts_;
  std::map<std::string, std::optional<Outline>, std::less<>> outlines_;
  std::string font_file_;
  Shaper shaper_;
};

}  // namespace layright
