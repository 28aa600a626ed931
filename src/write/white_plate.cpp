#include "write/white_plate.h"

#include <array>
#include <exception>
#include <map>
#include <new>
#include <stdexcept>

#include <qpdf/QPDF.hh>

#include "base/sha256.h"
#include "document/lay_record.h"
#include "document/numbers.h"
#include "document/page_tree.h"
#include "geometry/length.h"
#include "write/laid_writer.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;

constexpr char kName[] = "/WhitePlate";
constexpr std::array kCategories{"/XObject", "/ColorSpace", "/ExtGState"};
constexpr int kDeepest = 20;   // of values in each other, when a color space is looked for
constexpr int kDecimals = 10;  // as the matrix of a laid page has them

bool is_separation(Object value, std::string const& ink) {
  return value.isArray() && value.getArrayNItems() == 4 && value.getArrayItem(0).isNameAndEquals("/Separation") &&
         value.getArrayItem(1).isNameAndEquals("/" + ink);
}

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

/// The art's own where it has one, else one whose stand-in leaves nothing.
Object color_space(QPDF& pdf, std::string const& ink) {
  for (auto object : pdf.getAllObjects())
    if (auto found = separation_in(object, ink, 0); !found.isNull()) return found.isIndirect() ? found : pdf.makeIndirectObject(found);
  auto function = Object::newDictionary({{"/FunctionType", Object::newInteger(2)},
                                         {"/Domain", number_array({0, 1})},
                                         {"/C0", number_array({0, 0, 0, 0})},
                                         {"/C1", number_array({0, 0, 0, 0})},
                                         {"/N", Object::newInteger(1)}});
  return pdf.makeIndirectObject(
      Object::newArray({Object::newName("/Separation"), Object::newName("/" + ink), Object::newName("/DeviceCMYK"), function}));
}

Object state(QPDF& pdf) {
  return pdf.makeIndirectObject(Object::newDictionary({{"/Type", Object::newName("/ExtGState")},
                                                       {"/BM", Object::newName("/Multiply")},
                                                       {"/OP", Object::newBool(false)},
                                                       {"/op", Object::newBool(false)},
                                                       {"/ca", Object::newInteger(1)},
                                                       {"/SMask", Object::newName("/None")}}));
}

/// All of the picture's dictionary but its color space.
std::map<std::string, Object> picture_entries(PlatePicture const& picture) {
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
char const* filter(PlatePicture const& picture) { return picture.packing == PlatePicture::Packing::fax ? "/CCITTFaxDecode" : "/FlateDecode"; }

Object picture_stream(QPDF& pdf, PlatePicture const& picture, Object space) {
  auto stream = pdf.newStream();
  stream.replaceStreamData(picture.data, Object::newName(filter(picture)), Object::newNull());
  auto dictionary = stream.getDict();
  for (auto const& [key, value] : picture_entries(picture)) dictionary.replaceKey(key, value);
  if (picture.bits != 1) dictionary.replaceKey("/ColorSpace", space);
  return stream;
}

/// A full layer, and never more: what the press's own setting or a second pass adds is theirs.
std::string paint(WhitePlate const& plate) {
  auto const number = [](double value) { return format_number(value, kDecimals) + " "; };
  std::string const name(kName);
  std::string text = "q " + name + " gs ";
  if (plate.picture.bits == 1) text += name + " cs 1 scn ";
  text += number(plate.where.width()) + "0 0 " + number(plate.where.height()) + number(plate.where.x0) + number(plate.where.y0) + "cm " + name +
          " Do Q\n";
  return text;
}

Object resources_with(Object page, Object picture, Object space, Object state) {
  auto resources = page.getKey("/Resources").shallowCopy();
  std::array const values{picture, space, state};
  for (std::size_t i = 0; i < kCategories.size(); ++i) {
    auto old = resources.getKey(kCategories[i]);
    auto own = old.isDictionary() ? old.shallowCopy() : Object::newDictionary();
    own.replaceKey(kName, values[i]);
    resources.replaceKey(kCategories[i], own);
  }
  return resources;
}

LayRecord record_of(Document const& document, int number) {
  auto const page = document.page(number);
  if (!page.record || !page.record->holds) throw std::runtime_error("a laid page whose record does not hold");
  return *page.record;
}

/// What a page shows, by a digest that does not depend on how it is stored.
std::string shown(Document& document, Object page) {
  StreamList decoded;
  auto bare = document.library().makeIndirectObject(page.shallowCopy());
  for (auto const* key : {"/PieceInfo", "/LastModified", "/Parent"}) bare.removeKey(key);
  return PageDigests().of_new(bare, decoded);
}

std::string difference(Document& laid, Document& plated, std::vector<WhitePlate> const& plates, std::string const& ink) {
  for (auto* const document : {&laid, &plated}) expect_to_lay(*document);  // its objects stay
  auto const count = static_cast<int>(plates.size());
  if (laid.page_count() != count || plated.page_count() != count) return "it has another number of pages";
  for (int n = 1; n <= count; ++n) {
    auto const& plate = plates[static_cast<std::size_t>(n - 1)];
    auto before = laid.tree().page(n), after = plated.tree().page(n);
    std::string const where = "page " + std::to_string(n) + ": ";
    auto const record = record_of(plated, n);
    if (plate.picture.width == 0) {
      if (!record.plate.empty() || shown(laid, before) != shown(plated, after)) return where + "it has no white, and differs";
      continue;
    }
    if (record.plate != plate_record(plate)) return where + "its record tells of another plate";
    auto bare = after.shallowCopy();
    bare.replaceKey("/Contents", content_without_plate(after));
    bare.replaceKey("/Resources", resources_without_plate(after));
    auto plain = before.shallowCopy();
    plain.replaceKey("/Resources", resources_without_plate(before));  // lists that are empty fall away on both sides
    if (shown(plated, bare) != shown(laid, plain)) return where + "something else than its plate was added or changed";
    auto resources = after.getKey("/Resources");
    auto picture = resources.getKey("/XObject").getKey(kName);
    auto contents = after.getKey("/Contents");
    auto const data = contents.getArrayItem(1).getStreamData(qpdf_dl_generalized);
    if (contents.getArrayNItems() != 2 || std::string(reinterpret_cast<char const*>(data->getBuffer()), data->getSize()) != paint(plate))
      return where + "the plate is painted otherwise";
    if (!is_separation(resources.getKey("/ColorSpace").getKey(kName), ink)) return where + "the plate has another ink";
    auto state_now = resources.getKey("/ExtGState").getKey(kName);
    if (!state_now.isDictionary() || !state_now.getKey("/BM").isNameAndEquals("/Multiply")) return where + "the plate would hide what lies beneath";
    auto dictionary = picture.getDict();
    for (auto const& [key, value] : picture_entries(plate.picture))
      if (dictionary.getKey(key).unparseResolved() != Object(value).unparseResolved()) return where + "the plate's picture is another one";
    auto const raw = picture.getRawStreamData();
    if (!dictionary.getKey("/Filter").isNameAndEquals(filter(plate.picture)) ||
        std::string_view(reinterpret_cast<char const*>(raw->getBuffer()), raw->getSize()) != plate.picture.data)
      return where + "the plate's pixels are others";
  }
  return {};
}

}  // namespace

std::string plate_record(WhitePlate const& plate) {
  if (plate.picture.width == 0) return {};
  return plate.made + " " + sha256_hex({reinterpret_cast<std::byte const*>(plate.picture.data.data()), plate.picture.data.size()});
}

QPDFObjectHandle content_without_plate(QPDFObjectHandle page) {
  auto contents = page.getKey("/Contents");
  return contents.isArray() ? contents.getArrayItem(0) : contents;
}

QPDFObjectHandle resources_without_plate(QPDFObjectHandle page) {
  auto resources = page.getKey("/Resources").shallowCopy();
  for (auto const* category : kCategories) {
    auto old = resources.getKey(category);
    if (!old.isDictionary()) continue;
    auto own = old.shallowCopy();
    own.removeKey(kName);
    if (own.getKeys().empty()) resources.removeKey(category);
    else resources.replaceKey(category, own);
  }
  return resources;
}

Outcome write_plates(Document& laid, std::vector<WhitePlate> const& plates, std::string const& ink, ByteSink const& sink) {
  try {
    auto& pdf = laid.library();
    std::vector<LayRecord> records;
    for (int n = 1; n <= laid.page_count(); ++n) records.push_back(record_of(laid, n));
    auto const space = color_space(pdf, ink), look = state(pdf);
    PageDigests digests;
    for (int n = 1; n <= laid.page_count(); ++n) {
      auto const& plate = plates.at(static_cast<std::size_t>(n - 1));
      if (plate.picture.width == 0) continue;
      auto page = laid.tree().page(n);
      page.replaceKey("/Resources", resources_with(page, picture_stream(pdf, plate.picture, space), space, look));
      page.replaceKey("/Contents", Object::newArray({page.getKey("/Contents"), pdf.newStream(paint(plate))}));
      auto record = records[static_cast<std::size_t>(n - 1)];
      record.plate = plate_record(plate);
      auto const date = page.getKey("/LastModified");
      for (auto const* key : {"/PieceInfo", "/LastModified"}) page.removeKey(key);
      write_record(page, record, date, digests);
    }
    return write_laid_file(pdf, laid.claims_pdfx(), sink);
  } catch (std::bad_alloc const&) {
    return Error{ErrorKind::data, "putting the white plate on it takes more memory than is allowed"};
  } catch (std::exception const&) {  // what the library says is in its own words, with pieces of the file
    return Error{ErrorKind::data, "a part of it could not be read while the white plate was put on it"};
  }
}

Outcome prove_plates(Document& laid, Document& plated, std::vector<WhitePlate> const& plates, std::string const& ink) {
  std::string how = "it cannot be read again";
  try {
    how = difference(laid, plated, plates, ink);
  } catch (std::exception const&) {
  }
  return how.empty() ? done() : Outcome(Error{ErrorKind::internal, how});
}

}  // namespace layright
