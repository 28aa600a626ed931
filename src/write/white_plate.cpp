#include "write/white_plate.h"

#include <array>
#include <exception>
#include <new>
#include <stdexcept>

#include <qpdf/QPDF.hh>

#include "base/sha256.h"
#include "document/lay_record.h"
#include "document/page_tree.h"
#include "write/laid_document.h"
#include "write/laid_writer.h"
#include "write/plate_paint.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;

constexpr std::array kCategories{"/XObject", "/ColorSpace", "/ExtGState"};

Object state(QPDF& pdf) {
  return pdf.makeIndirectObject(Object::newDictionary({{"/Type", Object::newName("/ExtGState")},
                                                       {"/BM", Object::newName("/Multiply")},
                                                       {"/OP", Object::newBool(false)},
                                                       {"/op", Object::newBool(false)},
                                                       {"/ca", Object::newInteger(1)},
                                                       {"/SMask", Object::newName("/None")}}));
}

Object resources_with(Object page, Object picture, Object space, Object state) {
  auto resources = page.getKey("/Resources").shallowCopy();
  std::array const values{picture, space, state};
  for (std::size_t i = 0; i < kCategories.size(); ++i) {
    auto old = resources.getKey(kCategories[i]);
    auto own = old.isDictionary() ? old.shallowCopy() : Object::newDictionary();
    own.replaceKey(kPlateName, values[i]);
    resources.replaceKey(kCategories[i], own);
  }
  return resources;
}

LayRecord record_of(Document const& document, int number) {
  auto const page = document.page(number);
  if (!page.record || !page.record->holds) throw std::runtime_error("a laid page whose record does not hold");
  return *page.record;
}

std::vector<LayRecord> records_of(Document const& laid) {
  std::vector<LayRecord> records;
  for (int n = 1; n <= laid.page_count(); ++n) records.push_back(record_of(laid, n));
  return records;
}

class Plates {
 public:
  Plates(QPDF& pdf, PlateForm const& form, std::string const& date)
      : pdf_(pdf), form_(form), space_(plate_space(pdf, form.ink, form.as)), date_(Object::newString(date)) {}

  /// The plate, or the register marks of one that lies apart, comes last on the art's page.
  void put_on(Object page, WhitePlate const& plate, LayRecord record) {
    record.plate = plate_record(plate, form_.as);
    if (record.plate.empty()) return;
    auto more = register_paint(plate, false);
    if (form_.as == PlateAs::spot) {
      if (look_.isNull()) look_ = state(pdf_);
      page.replaceKey("/Resources", resources_with(page, picture_stream(pdf_, plate.picture, space_), space_, look_));
      more = plate_paint(plate, form_.as);
    }
    if (!more.empty()) page.replaceKey("/Contents", Object::newArray({page.getKey("/Contents"), pdf_.newStream(more)}));
    auto const date = page.getKey("/LastModified");
    for (auto const* key : {"/PieceInfo", "/LastModified"}) page.removeKey(key);
    write_record(page, record, date, digests_);
  }

  /// A page of its own for a plate.
  Object page_of(WhitePlate const& plate, Rect<SheetSpace> const& sheet, LayRecord record) {
    auto const box = Object::newArray(Object::Rectangle(sheet.x0, sheet.y0, sheet.x1, sheet.y1));
    auto resources = Object::newDictionary({{"/ColorSpace", Object::newDictionary({{kPlateName, space_}})}});
    if (plate.picture.width > 0) resources.replaceKey("/XObject", Object::newDictionary({{kPlateName, picture_stream(pdf_, plate.picture, space_)}}));
    auto page =
        pdf_.makeIndirectObject(Object::newDictionary({{"/Type", Object::newName("/Page")},
                                                       {"/MediaBox", box},
                                                       {"/TrimBox", box},
                                                       {"/Resources", resources},
                                                       {"/Contents", pdf_.newStream(plate_paint(plate, form_.as) + register_paint(plate, true))}}));
    record.plate = plate_record(plate, form_.as);
    record.is_plate = true;
    write_record(page, record, date_, digests_);
    return page;
  }

 private:
  QPDF& pdf_;
  PlateForm const& form_;
  Object space_, look_ = Object::newNull(), date_;
  PageDigests digests_;
};

Rect<SheetSpace> sheet_of(Document const& laid, int number) {
  auto const seen = laid.page(number).seen;
  return {0, 0, seen.width, seen.height};
}

template <class Write>
Outcome guarded(Write const& write) {
  try {
    return write();
  } catch (std::bad_alloc const&) {
    return Error{ErrorKind::data, "putting the white plate on it takes more memory than is allowed"};
  } catch (std::exception const&) {  // what the library says is in its own words, with pieces of the file
    return Error{ErrorKind::data, "a part of it could not be read while the white plate was put on it"};
  }
}

}  // namespace

std::string plate_record(WhitePlate const& plate, PlateAs as) {
  if (plate.picture.width == 0) return as == PlateAs::spot ? std::string() : plate.made + " none";
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
    own.removeKey(kPlateName);
    if (own.getKeys().empty()) resources.removeKey(category);
    else resources.replaceKey(category, own);
  }
  return resources;
}

Outcome write_plates(Document& laid, std::vector<WhitePlate> const& plates, PlateForm const& form, ByteSink const& sink) {
  return guarded([&] {
    auto& pdf = laid.library();
    auto const records = records_of(laid);
    Plates made(pdf, form, date_of(pdf));
    std::vector<Object> pages;
    for (int n = 1; n <= laid.page_count(); ++n) {
      auto const i = static_cast<std::size_t>(n - 1);
      auto page = laid.tree().page(n);
      if (form.as == PlateAs::page && form.first) pages.push_back(made.page_of(plates.at(i), sheet_of(laid, n), records[i]));
      pages.push_back(page);
      if (form.as == PlateAs::page && !form.first) pages.push_back(made.page_of(plates.at(i), sheet_of(laid, n), records[i]));
      made.put_on(page, plates.at(i), records[i]);
    }
    if (form.as == PlateAs::page) set_pages(pdf, pages);
    return write_laid_file(pdf, laid.claims_pdfx(), sink);
  });
}

Outcome write_plate_file(Document& laid, std::vector<WhitePlate> const& plates, PlateForm const& form, ByteSink const& sink) {
  return guarded([&] {
    auto const records = records_of(laid);
    QPDF pdf;
    pdf.emptyPDF();
    Plates made(pdf, form, date_of(laid.library()));
    std::vector<Object> pages;
    for (int n = 1; n <= laid.page_count(); ++n)
      pages.push_back(made.page_of(plates.at(static_cast<std::size_t>(n - 1)), sheet_of(laid, n), records[static_cast<std::size_t>(n - 1)]));
    clear_catalog(pdf);
    set_pages(pdf, pages);
    name_producer(pdf);
    return write_laid_file(pdf, false, sink);
  });
}

}  // namespace layright
