#include "write/drawn_annotation.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "document/annotations.h"
#include "document/numbers.h"
#include "geometry/length.h"
#include "geometry/rect.h"
#include "geometry/space.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;
constexpr double kArc = 0.5523;      // control points of a quarter circle, in radii: from the mathematics of Bezier curves
constexpr int kMostPoints = 10'000;  // of one line; our own
constexpr double kRim = 2;           // room about the points for strokes, in line widths: as mupdf/page_annotations has it

std::string numbers(std::initializer_list<double> values) {
  std::string text;
  for (double const v : values) text += format_number(v, 4) + " ";
  return text;
}

std::vector<double> list_of_numbers(Object list) {
  std::vector<double> out;
  int const count = list.isArray() ? std::min(list.getArrayNItems(), 2 * kMostPoints) : 0;
  for (int i = 0; i < count; ++i) out.push_back(number_of(list.getArrayItem(i)).value_or(0));
  return out;
}

std::string line_through(Object points) {
  auto const at = list_of_numbers(points);
  std::string text;
  for (std::size_t i = 0; i + 1 < at.size(); i += 2) text += numbers({at[i], at[i + 1]}) + (i == 0 ? "m " : "l ");
  return text;
}

std::string ellipse(Rect<PageSpace> const& r) {
  double const x = (r.x0 + r.x1) / 2, y = (r.y0 + r.y1) / 2, dx = kArc * r.width() / 2, dy = kArc * r.height() / 2;
  return numbers({r.x1, y}) + "m " + numbers({r.x1, y + dy, x + dx, r.y1, x, r.y1}) + "c " + numbers({x - dx, r.y1, r.x0, y + dy, r.x0, y}) + "c " +
         numbers({r.x0, y - dy, x - dx, r.y0, x, r.y0}) + "c " + numbers({x + dx, r.y0, r.x1, y - dy, r.x1, y}) + "c h ";
}

/// What RD leaves of the rectangle (12.5.6.8).
Rect<PageSpace> inner_rectangle(Object annotation, Rect<PageSpace> const& rect) {
  auto const rd = numbers_of<4>(annotation.getKey("/RD"));
  return rd ? Rect<PageSpace>{rect.x0 + (*rd)[0], rect.y0 + (*rd)[1], rect.x1 - (*rd)[2], rect.y1 - (*rd)[3]} : rect;
}

/// 12.5.6.8: the border runs inside the rectangle.
std::string closed_shape(Object annotation, Rect<PageSpace> const& rect, bool round) {
  auto const middle = inner_rectangle(annotation, rect).grown(-border_width(annotation) / 2);
  if (!(middle.width() > 0) || !(middle.height() > 0)) return "";
  return round ? ellipse(middle) : numbers({middle.x0, middle.y0, middle.width(), middle.height()}) + "re ";
}

/// A zigzag along the foot of a word of which `p` holds the four corners, a sixth of its height high.
std::string zigzag(double const* p) {
  double const along[2] = {p[6] - p[4], p[7] - p[5]}, up[2] = {(p[0] - p[4]) / 6, (p[1] - p[5]) / 6};
  double const length = std::hypot(along[0], along[1]), step = std::hypot(up[0], up[1]);
  if (!(step > 0) || !(length > 0)) return "";
  int const count = static_cast<int>(std::clamp(std::round(length / step), 1.0, 1.0 * kMostPoints));
  std::string text = numbers({p[4], p[5]}) + "m ";
  for (int i = 1; i <= count; ++i) {
    double const share = static_cast<double>(i) / count, high = i % 2;
    text += numbers({p[4] + share * along[0] + high * up[0], p[5] + share * along[1] + high * up[1]}) + "l ";
  }
  return text + "S ";
}

/// 12.5.6.10: each four corners stand about a word: two above, two below, as all programs write them.
std::string marked_words(Object annotation, std::string const& kind) {
  auto const q = list_of_numbers(annotation.getKey("/QuadPoints"));
  std::string text;
  for (std::size_t i = 0; i + 7 < q.size(); i += 8) {
    auto const* p = &q[i];
    if (kind == "/Squiggly") {
      text += zigzag(p);
      continue;
    }
    double const up = kind == "/StrikeOut" ? 0.5 : 0.1;  // of the word's height
    auto const between = [&](std::size_t above, std::size_t below) {
      return numbers({p[below] + up * (p[above] - p[below]), p[below + 1] + up * (p[above + 1] - p[below + 1])});
    };
    text += kind == "/Highlight"
                ? numbers({p[0], p[1]}) + "m " + numbers({p[2], p[3]}) + "l " + numbers({p[6], p[7]}) + "l " + numbers({p[4], p[5]}) + "l h f "
                : between(0, 4) + "m " + between(2, 6) + "l S ";
  }
  return text;
}

std::string shape(Object annotation, std::string const& kind, Rect<PageSpace> const& rect) {
  bool const marks_words = kind == "/Highlight" || kind == "/Underline" || kind == "/StrikeOut" || kind == "/Squiggly";
  auto const colour = colour_operator(annotation, "/C", kind != "/Highlight");
  if (marks_words) return colour.empty() ? "" : colour + marked_words(annotation, kind);
  bool const closed = kind == "/Square" || kind == "/Circle" || kind == "/Polygon";
  double const width = colour.empty() ? 0 : border_width(annotation);
  auto const fill = closed ? colour_operator(annotation, "/IC", false) : "";
  std::string path;
  if (kind == "/Square" || kind == "/Circle") path = closed_shape(annotation, rect, kind == "/Circle");
  if (kind == "/Line") path = line_through(annotation.getKey("/L"));
  if (kind == "/PolyLine") path = line_through(annotation.getKey("/Vertices"));
  if (kind == "/Polygon") path = line_through(annotation.getKey("/Vertices")) + "h ";
  if (kind == "/Ink" && annotation.getKey("/InkList").isArray())
    for (auto stroke : annotation.getKey("/InkList").getArrayAsVector()) path += line_through(stroke);
  if (path.size() < 3 || (fill.empty() && !(width > 0))) return "";
  return colour + fill + dash_operator(annotation) + numbers({width}) + "w " + path + (fill.empty() ? "S" : width > 0 ? "B" : "f");
}

/// All that the annotation may paint: the text it marks and the points of its lines count, also outside its rectangle, since readers
/// draw them there. With room for the corners of its strokes.
Rect<PageSpace> bounds(Object annotation, Rect<PageSpace> const& rect) {
  auto box = rect;
  auto const take_in = [&](Object points) {
    auto const at = list_of_numbers(points);
    for (std::size_t i = 0; i + 1 < at.size(); i += 2)
      box = {std::min(box.x0, at[i]), std::min(box.y0, at[i + 1]), std::max(box.x1, at[i]), std::max(box.y1, at[i + 1])};
  };
  for (auto const* key : {"/QuadPoints", "/L", "/Vertices"}) take_in(annotation.getKey(key));
  if (annotation.getKey("/InkList").isArray())
    for (auto stroke : annotation.getKey("/InkList").getArrayAsVector()) take_in(stroke);
  return box.grown(kRim * border_width(annotation));
}

/// 12.5.6.10 says nothing of it, but every reader lets words show through a highlight; CA is the opacity of Table 170.
Object look(Object annotation, bool multiply) {
  auto state = Object::newDictionary();
  if (multiply) state.replaceKey("/BM", Object::newName("/Multiply"));
  if (auto const opacity = number_of(annotation.getKey("/CA")); opacity && *opacity >= 0 && *opacity < 1)
    for (auto const* key : {"/CA", "/ca"}) state.replaceKey(key, Object::newReal(format_number(*opacity, 4)));
  return state;
}

}  // namespace

std::string colour_operator(Object annotation, char const* key, bool stroking) {
  auto const parts = list_of_numbers(annotation.getKey(key));
  std::string text;
  for (double const part : parts) text += format_number(part, 6) + " ";
  switch (parts.size()) {
    case 1: return text + (stroking ? "G " : "g ");
    case 3: return text + (stroking ? "RG " : "rg ");
    case 4: return text + (stroking ? "K " : "k ");
    default: return "";
  }
}

std::string dash_operator(Object annotation) {
  auto style = annotation.getKey("/BS");
  auto border = annotation.getKey("/Border");
  auto pattern = Object::newNull();
  if (style.isDictionary()) {
    if (!style.getKey("/S").isNameAndEquals("/D")) return "";
    pattern = style.getKey("/D");
    if (!pattern.isArray()) return "[3] 0 d ";
  } else if (border.isArray() && border.getArrayNItems() > 3) {
    pattern = border.getArrayItem(3);
  }
  std::string text = "[";
  double total = 0;
  for (int i = 0; pattern.isArray() && i < pattern.getArrayNItems() && i < 16; ++i) {
    auto const length = std::max(0.0, number_of(pattern.getArrayItem(i)).value_or(0));
    total += length;
    text += format_number(length, 4) + " ";
  }
  return total > 0 ? text + "] 0 d " : "";
}

Object new_form(QPDF& pdf, Rect<PageSpace> const& box, std::string const& operators) {
  auto form = pdf.newStream(operators);
  auto dictionary = form.getDict();
  dictionary.replaceKey("/Type", Object::newName("/XObject"));
  dictionary.replaceKey("/Subtype", Object::newName("/Form"));
  dictionary.replaceKey("/BBox", number_array({box.x0, box.y0, box.x1, box.y1}));
  dictionary.replaceKey("/Resources", Object::newDictionary());
  return form;
}

Object drawn_annotation(QPDF& pdf, Object annotation) {
  auto kind = annotation.getKey("/Subtype");
  auto const n = numbers_of<4>(annotation.getKey("/Rect"));
  if (!kind.isName() || !n) return Object::newNull();
  auto const rect = Rect<PageSpace>::from_corners((*n)[0], (*n)[1], (*n)[2], (*n)[3]);
  auto const paint = shape(annotation, kind.getName(), rect);
  if (paint.empty()) return Object::newNull();
  auto form = new_form(pdf, bounds(annotation, rect), "/Look gs " + paint);
  auto states = Object::newDictionary();
  states.replaceKey("/Look", look(annotation, kind.getName() == "/Highlight"));
  form.getDict().getKey("/Resources").replaceKey("/ExtGState", states);
  return form;
}

}  // namespace layright
