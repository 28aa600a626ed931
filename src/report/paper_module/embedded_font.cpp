#include "report/paper_module/embedded_font.h"

#include <glib.h>
#include <hb-ot.h>
#include <hb-subset.h>

#include <cstdio>
#include <memory>

#include "report/not_made.h"
#include "report/typeset/typesetter.h"

namespace layright {
namespace {

using namespace PoDoFo;

std::string hex4(unsigned value) {
  char digits[8];
  std::snprintf(digits, sizeof digits, "%04X", value & 0xFFFF);
  return digits;
}

PdfObject whole(long long value) { return PdfObject(static_cast<pdf_int64>(value)); }

PdfDictionary& entries(PdfObject* object) { return object->GetDictionary(); }

PdfObject* stream_of(PdfVecObjects& objects, std::string_view bytes) {
  PdfObject* const object = objects.CreateObject();
  object->GetStream()->Set(bytes.data(), static_cast<pdf_long>(bytes.size()));
  return object;
}

std::string postscript_name(hb_face_t* face) {
  char name[64];
  unsigned length = sizeof name;
  hb_ot_name_get_utf8(face, HB_OT_NAME_ID_POSTSCRIPT_NAME, HB_LANGUAGE_INVALID, &length, name);
  return length > 0 ? std::string(name, length) : "Font";
}

}  // namespace

std::string utf16_hex(std::string_view utf8) {
  glong count = 0;
  std::unique_ptr<gunichar2, decltype(&g_free)> const units(g_utf8_to_utf16(utf8.data(), static_cast<glong>(utf8.size()), nullptr, &count, nullptr),
                                                            &g_free);
  std::string out;
  for (glong i = 0; i < count; ++i) out += hex4(units.get()[i]);
  return out;
}

EmbeddedFont::EmbeddedFont(PdfVecObjects& objects, hb_face_t* face, std::size_t number)
    : objects_(objects),
      face_(hb_face_reference(face)),
      measure_(hb_font_create(face)),
      number_(number),
      cff_(has_table(face, "CFF ")),
      font_(objects.CreateObject("Font")) {}

EmbeddedFont::~EmbeddedFont() {
  hb_font_destroy(measure_);
  hb_face_destroy(face_);
}

bool EmbeddedFont::shows(hb_codepoint_t glyph, std::string_view letters) {
  auto& known = letters_[glyph];
  if (known.empty()) known = letters;
  return known == letters;
}

PdfObject* EmbeddedFont::program() const {
  hb_subset_input_t* const input = hb_subset_input_create_or_fail();
  if (!input) throw std::bad_alloc();
  hb_subset_input_set_flags(input, HB_SUBSET_FLAGS_RETAIN_GIDS);
  for (auto const& [glyph, letters] : letters_) hb_set_add(hb_subset_input_glyph_set(input), glyph);
  // Shaping is done; without its tables no other forms of the glyphs come along.
  for (hb_tag_t const tag : {HB_TAG('G', 'S', 'U', 'B'), HB_TAG('G', 'P', 'O', 'S'), HB_TAG('G', 'D', 'E', 'F'), HB_TAG('k', 'e', 'r', 'n')})
    hb_set_add(hb_subset_input_set(input, HB_SUBSET_SETS_DROP_TABLE_TAG), tag);
  hb_face_t* const part = hb_subset_or_fail(face_, input);
  hb_subset_input_destroy(input);
  if (!part) throw NotMade("the font " + postscript_name(face_) + " cannot be embedded");
  hb_blob_t* const blob = hb_face_reference_blob(part);
  unsigned length = 0;
  char const* const bytes = hb_blob_get_data(blob, &length);
  PdfObject* const object = stream_of(objects_, {bytes, length});
  hb_blob_destroy(blob);
  hb_face_destroy(part);
  if (cff_) entries(object).AddKey("Subtype", PdfName("OpenType"));
  else entries(object).AddKey("Length1", whole(length));
  return object;
}

PdfObject* EmbeddedFont::descriptor(std::string const& name) const {
  hb_font_extents_t extents{};
  hb_font_get_h_extents(measure_, &extents);
  auto const thousandths = [&](hb_position_t value) { return 1000.0 * value / hb_face_get_upem(face_); };
  double const ascent = thousandths(extents.ascender), descent = thousandths(extents.descender);
  PdfObject* const object = objects_.CreateObject("FontDescriptor");
  auto& all = entries(object);
  all.AddKey("FontName", PdfName(name));
  all.AddKey("Flags", whole(4));  // symbolic: its glyphs are asked for by number
  PdfArray box;
  for (double const edge : {-1000.0, descent, 2000.0, ascent}) box.push_back(edge);
  all.AddKey("FontBBox", box);
  all.AddKey("ItalicAngle", whole(0));
  all.AddKey("Ascent", ascent);
  all.AddKey("Descent", descent);
  all.AddKey("CapHeight", ascent);
  all.AddKey("StemV", whole(80));
  all.AddKey(cff_ ? "FontFile3" : "FontFile2", program()->Reference());
  return object;
}

PdfObject* EmbeddedFont::to_unicode() const {
  std::string map =
      "/CIDInit /ProcSet findresource begin 12 dict begin begincmap\n"
      "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def /CMapName /Adobe-Identity-UCS def /CMapType 2 def\n"
      "1 begincodespacerange <0000> <FFFF> endcodespacerange\n";
  for (auto const& [glyph, letters] : letters_)
    if (!letters.empty()) map += "1 beginbfchar <" + hex4(glyph) + "> <" + utf16_hex(letters) + "> endbfchar\n";
  return stream_of(objects_, map + "endcmap CMapName currentdict /CMap defineresource pop end end\n");
}

void EmbeddedFont::embed() {
  std::string const name = "LAYRI" + std::string(1, static_cast<char>('A' + number_ % 26)) + "+" + postscript_name(face_);
  PdfDictionary system;
  system.AddKey("Registry", PdfString("Adobe"));
  system.AddKey("Ordering", PdfString("Identity"));
  system.AddKey("Supplement", whole(0));
  PdfArray widths;
  for (auto const& [glyph, letters] : letters_) {
    widths.push_back(whole(glyph));
    widths.push_back(PdfArray(PdfVariant(advance(glyph))));
  }
  PdfObject* const glyphs = objects_.CreateObject("Font");
  auto& all = entries(glyphs);
  all.AddKey("Subtype", PdfName(cff_ ? "CIDFontType0" : "CIDFontType2"));
  all.AddKey("BaseFont", PdfName(name));
  all.AddKey("CIDSystemInfo", system);
  all.AddKey("W", widths);
  if (!cff_) all.AddKey("CIDToGIDMap", PdfName("Identity"));
  all.AddKey("FontDescriptor", descriptor(name)->Reference());
  auto& font = entries(font_);
  font.AddKey("Subtype", PdfName("Type0"));
  font.AddKey("BaseFont", PdfName(name));
  font.AddKey("Encoding", PdfName("Identity-H"));
  font.AddKey("DescendantFonts", PdfArray(PdfVariant(glyphs->Reference())));
  font.AddKey("ToUnicode", to_unicode()->Reference());
}

}  // namespace layright
