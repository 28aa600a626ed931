#include "report/job_sheet_module/paper_pen.h"

#include <algorithm>
#include <stdexcept>

namespace layright {
namespace {

using namespace PoDoFo;

constexpr char kFamily[] = "DejaVu Sans";  // Debian's fonts-dejavu-core: Latin, Greek, Cyrillic and many signs

PdfString text_of(std::string const& utf8) { return PdfString(reinterpret_cast<pdf_utf8 const*>(utf8.c_str())); }

/// The start of the last whole character at or before `at`.
std::size_t whole(std::string_view text, std::size_t at) {
  while (at > 0 && at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0) == 0x80) --at;
  return at;
}

std::size_t first_character(std::string_view text) {
  std::size_t length = 1;
  while (length < text.size() && (static_cast<unsigned char>(text[length]) & 0xC0) == 0x80) ++length;
  return length;
}

}  // namespace

PaperPen::PaperPen(double width, double height, std::string const& title, std::string const& date) {
  PdfError::EnableDebug(false);
  PdfError::EnableLogging(false);
  font_file_ = Shaper::font_file(kFamily, false);
  std::string const bold = Shaper::font_file(kFamily, true);
  if (font_file_.find("DejaVu") == std::string::npos || bold.find("DejaVu") == std::string::npos)
    throw std::runtime_error("the font DejaVu Sans is not installed: apt-get install fonts-dejavu-core");
  fonts_[0] = document_.CreateFontSubset(kFamily, false, false, false, new PdfIdentityEncoding(), font_file_.c_str());
  fonts_[1] = document_.CreateFontSubset(kFamily, true, false, false, new PdfIdentityEncoding(), bold.c_str());
  if (!fonts_[0] || !fonts_[1]) throw std::runtime_error("the font DejaVu Sans cannot be embedded");
  document_.GetInfo()->SetTitle(text_of(title));
  document_.GetInfo()->SetCreator(text_of("layright"));
  document_.GetInfo()->SetSubject(text_of(date));
  painter_.SetPage(document_.CreatePage(PdfRect(0, 0, width, height)));
}

std::vector<Stretch> const& PaperPen::cut(std::string_view utf8) {
  if (auto known = cuts_.find(utf8); known != cuts_.end()) return known->second;
  auto const has = [&](std::uint32_t c) {
    auto const known = in_font_.find(c);
    if (known != in_font_.end()) return known->second;
    return in_font_.emplace(c, Shaper::has_glyph(font_file_, c)).first->second;
  };
  auto pieces = stretches(utf8, has);
  for (auto& piece : pieces) {
    if (piece.plain) continue;
    auto [outline, fresh] = outlines_.try_emplace(piece.text);
    if (fresh) outline->second = shaper_.shape(piece.text);
    if (!outline->second) piece = {true, in_code_points(piece.text)};
  }
  return cuts_.emplace(std::string(utf8), std::move(pieces)).first->second;
}

PdfFont* PaperPen::font(Face face, double size) {
  PdfFont* font = fonts_[face == Face::bold];
  font->SetFontSize(static_cast<float>(size));
  return font;
}

double PaperPen::stretch_width(Stretch const& stretch, double size, Face face) {
  if (stretch.plain) return font(face, size)->GetFontMetrics()->StringWidth(text_of(stretch.text));
  return outlines_.find(stretch.text)->second->width * size;
}

double PaperPen::width(std::string_view utf8, double size, Face face) {
  double total = 0;
  for (auto const& stretch : cut(utf8)) total += stretch_width(stretch, size, face);
  return total;
}

double PaperPen::text(double x, double baseline, std::string_view utf8, double size, Face face, double grey) {
  for (auto const& stretch : cut(utf8)) {
    painter_.SetGray(grey);
    if (stretch.plain) {
      painter_.SetFont(font(face, size));
      painter_.DrawText(x, baseline, text_of(stretch.text));
    } else {
      for (auto const& part : outlines_.find(stretch.text)->second->parts) {
        auto const px = [&](int i) { return x + part.at[static_cast<std::size_t>(i)] * size; };
        auto const py = [&](int i) { return baseline + part.at[static_cast<std::size_t>(i)] * size; };
        if (part.kind == 'm') painter_.MoveTo(px(0), py(1));
        if (part.kind == 'l') painter_.LineTo(px(0), py(1));
        if (part.kind == 'c') painter_.CubicBezierTo(px(0), py(1), px(2), py(3), px(4), py(5));
        if (part.kind == 'z') painter_.ClosePath();
      }
      painter_.Fill();
    }
    x += stretch_width(stretch, size, face);
  }
  return x;
}

std::vector<std::string> PaperPen::wrapped(std::string_view utf8, double room, double size, Face face) {
  std::vector<std::string> lines(1);
  auto const fits = [&](std::string const& text) { return width(text, size, face) <= room; };
  std::size_t from = 0;
  while (from < utf8.size()) {
    auto const blank = std::min(utf8.find(' ', from), utf8.size());
    std::string word(utf8.substr(from, blank - from));
    from = blank + 1;
    std::string const joined = lines.back().empty() ? word : lines.back() + " " + word;
    if (fits(joined)) {
      lines.back() = joined;
      continue;
    }
    if (!lines.back().empty()) lines.emplace_back();
    while (!fits(word)) {
      // The longest whole beginning that fits; at least one character.
      std::size_t low = 1, high = word.size();
      while (low + 1 < high) {
        auto const middle = (low + high) / 2;
        (fits(word.substr(0, whole(word, middle))) ? low : high) = middle;
      }
      auto const cut_at = std::max(whole(word, low), first_character(word));
      if (cut_at >= word.size()) break;
      lines.back() = word.substr(0, cut_at);
      lines.emplace_back();
      word.erase(0, cut_at);
    }
    lines.back() = word;
  }
  return lines;
}

void PaperPen::line(double x0, double y0, double x1, double y1, double thick, double grey, bool dashed) {
  painter_.SetStrokingGray(grey);
  painter_.SetStrokeWidth(thick);
  painter_.SetStrokeStyle(dashed ? ePdfStrokeStyle_Dash : ePdfStrokeStyle_Solid);
  painter_.DrawLine(x0, y0, x1, y1);
}

void PaperPen::box(double x0, double y0, double x1, double y1, double thick, double grey, bool dashed) {
  painter_.SetStrokingGray(grey);
  painter_.SetStrokeWidth(thick);
  painter_.SetStrokeStyle(dashed ? ePdfStrokeStyle_Dash : ePdfStrokeStyle_Solid);
  painter_.Rectangle(x0, y0, x1 - x0, y1 - y0);
  painter_.Stroke();
}

void PaperPen::fill(double x0, double y0, double x1, double y1, double grey) {
  painter_.SetGray(grey);
  painter_.Rectangle(x0, y0, x1 - x0, y1 - y0);
  painter_.Fill();
}

void PaperPen::polygon(std::vector<std::pair<double, double>> const& points, double grey) {
  painter_.SetGray(grey);
  for (std::size_t i = 0; i < points.size(); ++i)
    i ? painter_.LineTo(points[i].first, points[i].second) : painter_.MoveTo(points[i].first, points[i].second);
  painter_.ClosePath();
  painter_.Fill();
}

void PaperPen::picture(LaidPicture const& picture, double x0, double y0, double x1, double y1) {
  PdfImage image(&document_);
  image.SetImageColorSpace(ePdfColorSpace_DeviceRGB);
  PdfMemoryInputStream stream(reinterpret_cast<char const*>(picture.rgb.data()), static_cast<pdf_long>(picture.rgb.size()));
  image.SetImageData(static_cast<unsigned>(picture.width), static_cast<unsigned>(picture.height), 8, &stream);
  painter_.DrawImage(x0, y0, &image, (x1 - x0) / picture.width, (y1 - y0) / picture.height);
}

std::string PaperPen::finish() {
  painter_.FinishPage();
  PdfRefCountedBuffer buffer;
  PdfOutputDevice device(&buffer);
  document_.Write(&device);
  return std::string(buffer.GetBuffer(), static_cast<std::size_t>(device.GetLength()));
}

}  // namespace layright
