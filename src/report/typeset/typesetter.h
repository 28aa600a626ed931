// Words of any script in lines, by Pango: it shapes and breaks them, and finds a font for what DejaVu Sans does not have.
#pragma once
#include <hb.h>
#include <pango/pango.h>

#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace layright {

enum class Face { regular, bold };

struct ObjectUnref {
  void operator()(void* object) const { g_object_unref(object); }
};
/// One line of words, set; its text is its own.
using SetLine = std::unique_ptr<PangoLayout, ObjectUnref>;

/// All text is UTF-8; what is not must be made visible before. A character that no font here has an outline for becomes its number, "U+4E2D".
class Typesetter {
 public:
  /// Of pango_cairo_font_map_new or pango_ft2_font_map_new, which it takes over. Throws std::runtime_error when the packaged font is missing.
  explicit Typesetter(PangoFontMap* fonts);

  SetLine set(std::string_view text, double size, Face face) const;
  double width(std::string_view text, double size, Face face) const;
  /// Lines no wider than `room` points, broken where the script allows it, or inside a word that is longer; at least one.
  std::vector<std::string> lines(std::string_view text, double room, double size, Face face) const;

 private:
  std::unique_ptr<PangoContext, ObjectUnref> context_;
};

/// Whether a font file has a table of this name (OpenType): "glyf" and "CFF " hold outlines.
bool has_table(hb_face_t* face, char const (&name)[5]);

}  // namespace layright
