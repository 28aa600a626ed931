// A font of which a document holds the glyphs that it shows and no others (ISO 32000-1, 9.7): two bytes a glyph, and the letters that each
// stands for, so that words can be found and copied.
#pragma once
#include <hb.h>
#include <podofo/podofo.h>

#include <map>
#include <string>
#include <string_view>

namespace layright {

class EmbeddedFont {
 public:
  /// `number`: of the font in its document.
  EmbeddedFont(PoDoFo::PdfVecObjects& objects, hb_face_t* face, std::size_t number);
  ~EmbeddedFont();
  EmbeddedFont(EmbeddedFont const&) = delete;
  EmbeddedFont& operator=(EmbeddedFont const&) = delete;

  hb_face_t* face() const { return face_; }
  std::string name() const { return "F" + std::to_string(number_); }
  PoDoFo::PdfReference reference() const { return font_->Reference(); }
  /// In thousandths of the size.
  double advance(hb_codepoint_t glyph) const { return 1000.0 * hb_font_get_glyph_h_advance(measure_, glyph) / hb_face_get_upem(face_); }
  /// Notes that the glyph is shown for the UTF-8 given; false where it stands for something else already.
  bool shows(hb_codepoint_t glyph, std::string_view letters);
  /// Notes that the glyph is shown, whatever for.
  void shows(hb_codepoint_t glyph) { letters_.try_emplace(glyph); }
  /// At the end: writes all of it into the document. Throws PoDoFo::PdfError, std::runtime_error.
  void embed();

 private:
  PoDoFo::PdfObject* program() const;
  PoDoFo::PdfObject* descriptor(std::string const& name) const;
  PoDoFo::PdfObject* to_unicode() const;

  PoDoFo::PdfVecObjects& objects_;
  hb_face_t* face_;
  hb_font_t* measure_;
  std::size_t number_;
  bool cff_;
  PoDoFo::PdfObject* font_;
  std::map<hb_codepoint_t, std::string> letters_;  // by glyph
};

/// UTF-16BE in hexadecimal digits.
std::string utf16_hex(std::string_view utf8);

}  // namespace layright
