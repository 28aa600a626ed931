#include "write/plate_paint.h"

#include <map>

#include <qpdf/QPDF.hh>

#include "document/numbers.h"
#include "geometry/length.h"
#include "place/register_marks.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;

constexpr int kDeepest = 20;             // of values in each other, when a color space is looked for
constexpr int kDecimals = 10;            // as the matrix of a laid page has them
constexpr double kRound = 0.5522847498;  // of a circle in four curves: the handles by the radius, 4/3 (sqrt 2 - 1)

/// The first of that name in a value, without following references; null where there is none.
Object separation_in(Object value, std::string const& ink, int depth) {
  if (depth > kDeepest) return Object::newNull();
  if (is_separation(value, ink)) return value;
  auto const inside = [&](Object part) { return part.isIndirect() ? Object::newNull() : separation_in(part, ink, depth + 1); };
  if (value.isArray()) {
    for (int i = 0; i < value.getArrayNItems(); ++i)
      if (auto found = inside(value.getArrayItem(i)); !found.isNull()) return found;
  } else if (value.isDictionary() || value.isStream()) {
    auto dictionary = value.isStream() ? value.getDict() : value;
    for (auto const& key : dictionary.getKeys())
      if (auto found = inside(dictionary.getKey(key)); !found.isNull()) return found;
  }
  return Object::newNull();
}

std::string number(double value) { return format_number(value, kDecimals) + " "; }

/// A cross in a circle.
std::string mark_text(Point<SheetSpace> const& middle) {
  double const x = middle.x, y = middle.y, out = kRegisterReach, r = out / 2, k = kRound * r;
  auto const at = [](double px, double py) { return number(px) + number(py); };
  return at(x - out, y) + "m " + at(x + out, y) + "l " + at(x, y - out) + "m " + at(x, y + out) + "l " + at(x + r, y) + "m " + at(x + r, y + k) +
         at(x + k, y + r) + at(x, y + r) + "c " + at(x - k, y + r) + at(x - r, y + k) + at(x - r, y) + "c " + at(x - r, y - k) + at(x - k, y - r) +
         at(x, y - r) + "c " + at(x + k, y - r) + at(x + r, y - k) + at(x + r, y) + "c S\n";
}

}  // namespace

bool is_separation(Object value, std::string const& ink) {
  return value.isArray() && value.getArrayNItems() == 4 && value.getArrayItem(0).isNameAndEquals("/Separation") &&
         value.getArrayItem(1).isNameAndEquals("/" + ink);
}

QPDFObjectHandle plate_space(QPDF& pdf, std::string const& ink, PlateAs as) {
  for (auto object : pdf.getAllObjects())
    if (auto found = separation_in(object, ink, 0); !found.isNull()) return found.isIndirect() ? found : pdf.makeIndirectObject(found.shallowCopy());
  bool const apart = as != PlateAs::spot;
  auto function = Object::newDictionary({{"/FunctionType", Object::newInteger(2)},
                                         {"/Domain", number_array({0, 1})},
                                         {"/C0", apart ? number_array({1}) : number_array({0, 0, 0, 0})},
                                         {"/C1", apart ? number_array({0}) : number_array({0, 0, 0, 0})},
                                         {"/N", Object::newInteger(1)}});
  return pdf.makeIndirectObject(Object::newArray(
      {Object::newName("/Separation"), Object::newName("/" + ink), Object::newName(apart ? "/DeviceGray" : "/DeviceCMYK"), function}));
}

std::map<std::string, QPDFObjectHandle> picture_entries(PlatePicture const& picture) {
  std::map<std::string, Object> entries{{"/Type", Object::newName("/XObject")},
                                        {"/Subtype", Object::newName("/Image")},
                                        {"/Width", Object::newInteger(picture.width)},
                                        {"/Height", Object::newInteger(picture.height)},
                                        {"/BitsPerComponent", Object::newInteger(picture.bits)}};
  if (picture.bits == 1) {
    entries["/ImageMask"] = Object::newBool(true);
    entries["/Decode"] = Object::newArray({Object::newInteger(1), Object::newInteger(0)});
  }
  if (picture.packing == PlatePicture::Packing::fax)
    entries["/DecodeParms"] = Object::newDictionary(
        {{"/K", Object::newInteger(-1)}, {"/Columns", Object::newInteger(picture.width)}, {"/Rows", Object::newInteger(picture.height)}});
  return entries;
}

char const* plate_filter(PlatePicture const& picture) { return picture.packing == PlatePicture::Packing::fax ? "/CCITTFaxDecode" : "/FlateDecode"; }

QPDFObjectHandle picture_stream(QPDF& pdf, PlatePicture const& picture, Object space) {
  auto stream = pdf.newStream();
  stream.replaceStreamData(picture.data, Object::newName(plate_filter(picture)), Object::newNull());
  auto dictionary = stream.getDict();
  for (auto const& [key, value] : picture_entries(picture)) dictionary.replaceKey(key, value);
  if (picture.bits != 1) dictionary.replaceKey("/ColorSpace", space);
  return stream;
}

std::string plate_paint(WhitePlate const& plate, PlateAs as) {
  if (plate.picture.width == 0) return {};
  std::string const name(kPlateName);
  std::string text = "q " + (as == PlateAs::spot ? name + " gs " : std::string());
  if (plate.picture.bits == 1) text += name + " cs 1 scn ";
  text += number(plate.where.width()) + "0 0 " + number(plate.where.height()) + number(plate.where.x0) + number(plate.where.y0) + "cm " + name +
          " Do Q\n";
  return text;
}

std::string register_paint(WhitePlate const& plate, bool in_white) {
  if (plate.marks.empty()) return {};
  std::string text = "q " + number(kRegisterLine) + "w " + (in_white ? std::string(kPlateName) + " CS 1 SCN\n" : "0 G\n");
  for (auto const& middle : plate.marks) text += mark_text(middle);
  return text + "Q\n";
}

}  // namespace layright
