#include "report/paper_module/paper_canvas.h"

#include <pango/pangoft2.h>

#include <algorithm>
#include <cstdio>
#include <iomanip>
#include <locale>
#include <sstream>
#include <utility>

namespace layright {
namespace {

using namespace PoDoFo;

PdfString text_of(std::string const& utf8) { return PdfString(reinterpret_cast<pdf_utf8 const*>(utf8.c_str())); }

/// Others take room at most.
bool drawn(PangoGlyph glyph) { return glyph != PANGO_GLYPH_EMPTY && !(glyph & PANGO_GLYPH_UNKNOWN_FLAG); }

double in_points(int units) { return static_cast<double>(units) / PANGO_SCALE; }

}  // namespace

PaperCanvas::PaperCanvas(double width, double height, std::string const& title, std::string const& date)
    : typesetter_(pango_ft2_font_map_new()), page_width_(width), page_height_(height) {
  PdfError::EnableDebug(false);
  PdfError::EnableLogging(false);
  document_.SetPdfVersion(ePdfVersion_1_7);
  document_.GetInfo()->SetTitle(text_of(title));
  document_.GetInfo()->SetCreator(text_of("layright"));
  document_.GetInfo()->SetSubject(text_of(date));
  page_ = document_.CreatePage(PdfRect(0, 0, width, height));
  painter_.SetPage(page_);
}

EmbeddedFont& PaperCanvas::embedded(PangoFont* font) {
  hb_face_t* const face = hb_font_get_face(pango_font_get_hb_font(font));
  auto const known = std::ranges::find_if(fonts_, [&](auto const& each) { return each.face() == face; });
  auto& wanted = known != fonts_.end() ? *known : fonts_.emplace_back(document_.GetObjects(), face, fonts_.size());
  if (on_page_.insert(&wanted).second) page_->AddResource(wanted.name(), wanted.reference(), PdfName("Font"));
  return wanted;
}

void PaperCanvas::next_page() {
  painter_.FinishPage();
  page_ = document_.CreatePage(PdfRect(0, 0, page_width_, page_height_));
  painter_.SetPage(page_);
  on_page_.clear();
  has_ink_ = false;
}

void PaperCanvas::text(double x, double baseline, std::string_view utf8, double size, Face face, double grey) {
  auto const line = typesetter_.set(utf8, size, face);
  painter_.SetGray(grey);
  for (GSList* r = pango_layout_get_line_readonly(line.get(), 0)->runs; r; r = r->next) {
    auto* const run = static_cast<PangoGlyphItem*>(r->data);
    show(run, pango_layout_get_text(line.get()), x, baseline, size);
    x += in_points(pango_glyph_string_get_width(run->glyphs));
  }
}

/// Glyphs that stand for letters by themselves are told by the font; of others, such as the forms of a syllable, the page tells it (ISO 32000-1,
/// 14.9.4).
void PaperCanvas::show(PangoGlyphItem* run, char const* utf8, double x, double baseline, double size) {
  auto& font = embedded(run->item->analysis.font);
  std::ostringstream out;  // PoDoFo has no call for glyphs by their numbers
  out.imbue(std::locale::classic());
  out << std::fixed << std::setprecision(3);
  std::vector<double> starts;
  for (int i = 0; i < run->glyphs->num_glyphs; x += in_points(run->glyphs->glyphs[i++].geometry.width)) starts.push_back(x);
  out << "BT /" << font.name() << ' ' << size << " Tf\n";
  PangoGlyphItemIter at;
  for (bool more = pango_glyph_item_iter_init_start(&at, run, utf8); more; more = pango_glyph_item_iter_next_cluster(&at)) {
    // From right to left its glyphs are counted down.
    int const step = at.start_glyph < at.end_glyph ? 1 : -1;
    std::string_view const letters(utf8 + at.start_index, static_cast<std::size_t>(at.end_index - at.start_index));
    if (!drawn(run->glyphs->glyphs[at.start_glyph].glyph)) continue;
    bool const by_font = at.start_glyph + step == at.end_glyph && font.shows(run->glyphs->glyphs[at.start_glyph].glyph, letters);
    if (!by_font) out << "/Span <</ActualText <FEFF" << utf16_hex(letters) << ">>> BDC\n";
    for (int i = at.start_glyph; i != at.end_glyph; i += step) {
      auto const& glyph = run->glyphs->glyphs[i];
      if (!drawn(glyph.glyph)) continue;
      font.shows(glyph.glyph);
      char number[8];
      std::snprintf(number, sizeof number, "%04X", glyph.glyph & 0xFFFF);
      out << "1 0 0 1 " << starts[static_cast<std::size_t>(i)] + in_points(glyph.geometry.x_offset) << ' '
          << baseline - in_points(glyph.geometry.y_offset) << " Tm <" << number << "> Tj\n";
    }
    if (!by_font) out << "EMC\n";
  }
  out << "ET\n";
  painter_.GetCanvas()->Append(out.str());
}

void PaperCanvas::line(double x0, double y0, double x1, double y1, double thick, double grey, bool dashed) {
  painter_.SetStrokingGray(grey);
  painter_.SetStrokeWidth(thick);
  painter_.SetStrokeStyle(dashed ? ePdfStrokeStyle_Dash : ePdfStrokeStyle_Solid);
  painter_.DrawLine(x0, y0, x1, y1);
}

void PaperCanvas::line_in_ink(std::string const& ink, double x0, double y0, double x1, double y1, double thick) {
  if (!std::exchange(has_ink_, true)) {
    PdfArray nothing, range, space;
    for (int i = 0; i < 4; ++i) nothing.push_back(0.0);
    range.push_back(0.0);
    range.push_back(1.0);
    PdfDictionary tint, look;
    tint.AddKey("FunctionType", PdfVariant(static_cast<pdf_int64>(2)));
    tint.AddKey("Domain", range);
    tint.AddKey("C0", nothing);
    tint.AddKey("C1", nothing);
    tint.AddKey("N", PdfVariant(static_cast<pdf_int64>(1)));
    space.push_back(PdfName("Separation"));
    space.push_back(PdfName(ink));
    space.push_back(PdfName("DeviceCMYK"));
    space.push_back(PdfVariant(tint));
    look.AddKey("OP", PdfVariant(true));
    look.AddKey("op", PdfVariant(true));
    look.AddKey("OPM", PdfVariant(static_cast<pdf_int64>(1)));
    page_->AddResource("Ink", document_.GetObjects().CreateObject(PdfVariant(space))->Reference(), PdfName("ColorSpace"));
    page_->AddResource("Over", document_.GetObjects().CreateObject(PdfVariant(look))->Reference(), PdfName("ExtGState"));
  }
  std::ostringstream out;
  out.imbue(std::locale::classic());
  out << std::fixed << std::setprecision(4) << "q /Over gs /Ink CS 1 SCN " << thick << " w [] 0 d " << x0 << ' ' << y0 << " m " << x1 << ' ' << y1
      << " l S Q\n";
  painter_.GetCanvas()->Append(out.str());
}

void PaperCanvas::box(double x0, double y0, double x1, double y1, double thick, double grey, bool dashed) {
  painter_.SetStrokingGray(grey);
  painter_.SetStrokeWidth(thick);
  painter_.SetStrokeStyle(dashed ? ePdfStrokeStyle_Dash : ePdfStrokeStyle_Solid);
  painter_.Rectangle(x0, y0, x1 - x0, y1 - y0);
  painter_.Stroke();
}

void PaperCanvas::fill(double x0, double y0, double x1, double y1, double grey) {
  painter_.SetGray(grey);
  painter_.Rectangle(x0, y0, x1 - x0, y1 - y0);
  painter_.Fill();
}

void PaperCanvas::polygon(std::vector<std::pair<double, double>> const& points, double grey) {
  painter_.SetGray(grey);
  for (std::size_t i = 0; i < points.size(); ++i)
    i ? painter_.LineTo(points[i].first, points[i].second) : painter_.MoveTo(points[i].first, points[i].second);
  painter_.ClosePath();
  painter_.Fill();
}

void PaperCanvas::picture(LaidPicture const& picture, double x0, double y0, double x1, double y1) {
  PdfImage image(&document_);
  image.SetImageColorSpace(ePdfColorSpace_DeviceRGB);
  PdfMemoryInputStream stream(reinterpret_cast<char const*>(picture.rgb.data()), static_cast<pdf_long>(picture.rgb.size()));
  image.SetImageData(static_cast<unsigned>(picture.width), static_cast<unsigned>(picture.height), 8, &stream);
  painter_.DrawImage(x0, y0, &image, (x1 - x0) / picture.width, (y1 - y0) / picture.height);
}

void PaperCanvas::mirrored(double sum) {
  painter_.Save();
  painter_.SetTransformationMatrix(-1, 0, 0, 1, sum, 0);
}

void PaperCanvas::end_mirrored() { painter_.Restore(); }

void PaperCanvas::print_as_it_is() {
  PdfVariant box;
  page_->GetMediaBox().ToVariant(box);
  page_->GetObject()->GetDictionary().AddKey("TrimBox", box);
  PdfDictionary viewer;
  viewer.AddKey("PrintScaling", PdfName("None"));
  document_.GetCatalog()->GetDictionary().AddKey("ViewerPreferences", viewer);
}

std::string PaperCanvas::finish() {
  painter_.FinishPage();
  for (auto& font : fonts_) font.embed();
  PdfRefCountedBuffer buffer;
  PdfOutputDevice device(&buffer);
  document_.Write(&device);
  return std::string(buffer.GetBuffer(), static_cast<std::size_t>(device.GetLength()));
}

}  // namespace layright
