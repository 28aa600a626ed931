#include "write/flat_annotations.h"

#include <algorithm>
#include <optional>
#include <stdexcept>

#include <qpdf/QPDFAnnotationObjectHelper.hh>
#include <qpdf/QPDFFormFieldObjectHelper.hh>

#include "document/annotation_fate.h"
#include "document/annotations.h"
#include "document/numbers.h"
#include "geometry/length.h"
#include "write/drawn_annotation.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;
struct AppearanceSpace {};  // of an appearance stream after its own Matrix

constexpr long long kNoRotate = 1 << 4;  // ISO 32000-1, Table 165

std::string matrix_operator(Matrix<AppearanceSpace, PageSpace> const& m) {
  std::string text;
  for (double const value : {m.a, m.b, m.c, m.d, m.e, m.f}) text += format_number(value, 9) + " ";
  return text + "cm ";
}

std::optional<Rect<PageSpace>> rect_of(Object annotation) {
  auto const n = numbers_of<4>(annotation.getKey("/Rect"));
  if (!n) return std::nullopt;
  return Rect<PageSpace>::from_corners((*n)[0], (*n)[1], (*n)[2], (*n)[3]);
}

/// The extents of the appearance's box under its own matrix.
std::optional<Rect<AppearanceSpace>> appearance_extents(Object appearance) {
  struct FormSpace {};
  auto const box = numbers_of<4>(appearance.getDict().getKey("/BBox"));
  if (!box) return std::nullopt;
  Matrix<FormSpace, AppearanceSpace> own;
  if (auto const m = numbers_of<6>(appearance.getDict().getKey("/Matrix"))) {
    own = {(*m)[0], (*m)[1], (*m)[2], (*m)[3], (*m)[4], (*m)[5]};
  }
  return own.apply(Rect<FormSpace>::from_corners((*box)[0], (*box)[1], (*box)[2], (*box)[3]));
}

/// Algorithm 8.1 of 12.5.5: the appearance's extents are scaled and moved to fill the annotation's rectangle. An annotation that must
/// not turn with the page keeps upright about its upper left corner (Table 165, NoRotate).
std::optional<Matrix<AppearanceSpace, PageSpace>> appearance_matrix(Object annotation, Object appearance, Turn page_clockwise) {
  auto const rect = rect_of(annotation);
  auto const from = appearance_extents(appearance);
  if (!rect || !from || !(from->width() > 0) || !(from->height() > 0)) return std::nullopt;
  double const sx = rect->width() / from->width(), sy = rect->height() / from->height();
  Matrix<AppearanceSpace, PageSpace> const fit{sx, 0, 0, sy, rect->x0 - sx * from->x0, rect->y0 - sy * from->y0};
  auto flags = annotation.getKey("/F");
  if (!flags.isInteger() || !(flags.getIntValue() & kNoRotate) || page_clockwise == Turn::none) return fit;
  auto const about =
      then(then(translation<PageSpace>(-rect->x0, -rect->y1), rotation<PageSpace>(page_clockwise)), translation<PageSpace>(rect->x0, rect->y1));
  return then(fit, about);
}

/// A link's border is drawn along its rectangle, half of its width outside (12.5.4 tells the width, colour and dashes).
Object border_appearance(QPDF& pdf, Object annotation) {
  auto const rect = rect_of(annotation);
  double const width = border_width(annotation);
  if (!rect || !(width > 0)) return Object::newNull();
  auto const line = [](double a, double b) { return format_number(a, 4) + " " + format_number(b, 4); };
  auto style = annotation.getKey("/BS");
  bool const underline = style.isDictionary() && style.getKey("/S").isNameAndEquals("/U");
  auto const path = underline ? line(rect->x0, rect->y0) + " m " + line(rect->x1, rect->y0) + " l S"
                              : line(rect->x0, rect->y0) + " " + line(rect->width(), rect->height()) + " re S";
  return new_form(pdf, rect->grown(width),
                  colour_operator(annotation, "/C", true) + dash_operator(annotation) + format_number(width, 4) + " w " + path);
}

/// The ground and the border that a field asks for (12.7.4, Table 189), in a space that begins at its lower left corner.
std::string field_decoration(Object annotation, double width, double height) {
  auto marks = annotation.getKey("/MK");
  if (!marks.isDictionary()) return "";
  auto const number = [](double v) { return format_number(v, 4) + " "; };
  std::string text;
  if (auto const ground = colour_operator(marks, "/BG", false); !ground.empty()) text += ground + "0 0 " + number(width) + number(height) + "re f ";
  double const line = border_width(annotation);
  if (auto const border = colour_operator(marks, "/BC", true); !border.empty() && line > 0)
    text += border + dash_operator(annotation) + number(line) + "w " + number(line / 2) + number(line / 2) + number(width - line) +
            number(height - line) + "re S ";
  return text.empty() ? text : "q " + text + "Q\n";
}

/// A field that has no appearance: its ground and border, and the text of a text or choice field, which the PDF library writes.
Object field_appearance(QPDF& pdf, Object annotation) {
  auto const rect = rect_of(annotation);
  if (!rect) return Object::newNull();
  auto const decoration = field_decoration(annotation, rect->width(), rect->height());
  bool const text = field_value(annotation, "/V").isString() && !field_value(annotation, "/FT").isNameAndEquals("/Btn");
  if (text) {
    QPDFAnnotationObjectHelper widget(annotation);
    QPDFFormFieldObjectHelper(annotation).generateAppearance(widget);
  }
  auto form = normal_appearance(annotation);
  if (form.isNull()) return decoration.empty() ? form : new_form(pdf, {0, 0, rect->width(), rect->height()}, decoration);
  if (!decoration.empty()) {
    auto const words = form.getStreamData(qpdf_dl_generalized);
    form.replaceStreamData(decoration + std::string(reinterpret_cast<char const*>(words->getBuffer()), words->getSize()), Object::newNull(),
                           Object::newNull());
  }
  return form;
}

struct Appearance {
  Object form;
  Matrix<AppearanceSpace, PageSpace> matrix;
};

std::optional<Appearance> appearance_of(QPDF& pdf, Object annotation, Turn page_clockwise) {
  auto form = normal_appearance(annotation);
  auto subtype = annotation.getKey("/Subtype");
  if (form.isNull() && subtype.isNameAndEquals("/Widget")) form = field_appearance(pdf, annotation);
  if (form.isNull()) {
    form = subtype.isNameAndEquals("/Link") ? border_appearance(pdf, annotation) : drawn_annotation(pdf, annotation);
    if (form.isNull()) return std::nullopt;
    return Appearance{form, {}};  // drawn where it is
  }
  if (!form.isStream()) return std::nullopt;
  auto const matrix = appearance_matrix(annotation, form, page_clockwise);
  if (!matrix) return std::nullopt;
  auto dictionary = form.getDict();
  if (!dictionary.getKey("/Subtype").isNameAndEquals("/Form")) {  // readers take it for one; Do wants it said
    dictionary.replaceKey("/Type", Object::newName("/XObject"));
    dictionary.replaceKey("/Subtype", Object::newName("/Form"));
  }
  return Appearance{form, *matrix};
}

/// Names `object` in a category of `resources` as nothing there is named yet, and gives the name. `number` is the last one tried.
std::string name_in(Object resources, std::string const& category, std::string const& stem, int& number, Object object) {
  auto names = resources.getKey(category);
  if (!names.isDictionary()) {
    names = Object::newDictionary();
    resources.replaceKey(category, names);
  }
  do ++number;
  while (names.hasKey(stem + std::to_string(number)));
  auto const name = stem + std::to_string(number);
  names.replaceKey(name, object);
  return name;
}

}  // namespace

std::string flatten_annotations(QPDF& pdf, Object page, Page const& described, Object resources) {
  auto annotations = page.getKey("/Annots");
  if (!annotations.isArray()) return "";
  std::string text;
  int notes = 0, layers = 0;
  for (auto annotation : annotations.getArrayAsVector()) {
    if (fate_of(annotation) != AnnotationFate::joins_page) continue;
    auto const appearance = appearance_of(pdf, annotation, described.clockwise.value_or(Turn::none));
    if (!appearance) continue;
    auto const name = name_in(resources, "/XObject", "/Note", notes, appearance->form);
    auto paint = "q " + matrix_operator(appearance->matrix) + name + " Do Q\n";
    if (auto layer = annotation.getKey("/OC"); layer.isDictionary())
      paint = "/OC " + name_in(resources, "/Properties", "/Layer", layers, layer) + " BDC " + paint + "EMC\n";
    text += paint;
  }
  if (text.empty()) return "";
  auto const& seen = described.boxes.crop;
  auto const number = [](double v) { return format_number(v, 6) + " "; };
  return "q " + number(seen.x0) + number(seen.y0) + number(seen.width()) + number(seen.height()) + "re W n\n" + text + "Q\n";
}

}  // namespace layright
