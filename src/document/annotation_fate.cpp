#include "document/annotation_fate.h"

#include <algorithm>
#include <string>

#include <qpdf/QPDF.hh>
#include <qpdf/QPDFFormFieldObjectHelper.hh>

#include "document/annotation_kinds.h"
#include "document/annotations.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;
using Fate = AnnotationFate;

// ISO 32000-1, Tables 228 and 230, as values of single bits: text in several lines, in dots, in a comb, with format, of a file.
constexpr long long kOddText = 1 << 12 | 1 << 13 | 1 << 20 | 1 << 24 | 1 << 25;

bool has_text(Object value) { return value.isString() && !value.getStringValue().empty(); }

/// The PDF library writes a field's text in one line, in letters of ASCII, with the font that the default appearance names.
bool can_be_drawn(Object widget) {
  auto flags = field_value(widget, "/Ff");
  bool const text = field_value(widget, "/FT").isNameAndEquals("/Tx");
  if (text && flags.isInteger() && (flags.getIntValue() & kOddText)) return false;
  auto const words = field_value(widget, "/V").getUTF8Value();
  if (!std::ranges::all_of(words, [](unsigned char c) { return c >= ' ' && c < 0x7f; })) return false;
  QPDFFormFieldObjectHelper field(widget);
  auto const look = field.getDefaultAppearance();
  auto const slash = look.find('/');
  auto const name = slash == std::string::npos ? "" : look.substr(slash, look.find_first_of(" \t\r\n", slash) - slash);
  auto resources = field.getDefaultResources();
  auto fonts = resources.isDictionary() ? resources.getKey("/Font") : Object::newNull();
  return fonts.isDictionary() && fonts.getKey(name).isDictionary();
}

Fate fate_of_field(Object widget) {
  auto type = field_value(widget, "/FT");
  auto marks = widget.getKey("/MK");
  bool const decorated = marks.isDictionary() && (marks.hasKey("/BG") || marks.hasKey("/BC"));
  Fate const bare = decorated ? Fate::joins_page : Fate::stays_away;
  if (!type.isName() || type.getName() == "/Sig") return Fate::stays_away;
  if (type.getName() == "/Btn") {
    if (marks.isDictionary() && has_text(marks.getKey("/CA"))) return Fate::loses_words;
    return bare;
  }
  if (!has_text(field_value(widget, "/V"))) return bare;
  return can_be_drawn(widget) ? Fate::joins_page : Fate::loses_words;
}

}  // namespace

Object field_value(Object field, std::string const& key) {
  for (int depth = 0; depth < 32 && field.isDictionary(); ++depth) {
    if (auto value = field.getKey(key); !value.isNull()) return value;
    field = field.getKey("/Parent");
  }
  return Object::newNull();
}

Fate fate_of(Object annotation) {
  if (!has_print_flag(annotation)) return Fate::stays_away;
  auto subtype = annotation.getKey("/Subtype");
  if (subtype.isNameAndEquals("/FileAttachment")) return Fate::left_out;  // poppler and MuPDF never print its pin
  if (!normal_appearance(annotation).isNull()) return Fate::joins_page;
  auto const kind = subtype.isName() ? subtype.getName().substr(1) : "";
  auto appearances = annotation.getKey("/AP");
  auto states = appearances.isDictionary() ? appearances.getKey("/N") : Object::newNull();
  if (!states.isNull() && !(kind == "Link" && states.isStream())) return Fate::stays_away;  // its state shows nothing
  if (kind == "Link") return border_width(annotation) > 0 && !border_is_clear(annotation) ? Fate::joins_page : Fate::stays_away;
  if (kind == "Widget") return fate_of_field(annotation);
  if (has_a_shape(kind) && (annotation.hasKey("/C") || annotation.hasKey("/IC"))) return Fate::joins_page;
  bool const words = kind == "Stamp" || (kind == "FreeText" && has_text(annotation.getKey("/Contents")));
  return words ? Fate::loses_words : Fate::left_out;
}

}  // namespace layright
