#include "write/laid_page.h"

#include <stdexcept>

#include <qpdf/Pl_String.hh>

#include "document/lay_record.h"
#include "document/numbers.h"
#include "geometry/length.h"
#include "write/flat_annotations.h"
#include "write/not_laid.h"
#include "write/open_content.h"
#include "write/page_resources.h"
#include "write/white_plate.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;

constexpr char kAfterMatrix[] = " cm\n";
// So many decimals that the far corner of the largest page (14,400 units) is right to a ten-thousandth of a point.
constexpr int kDecimals = 10;

template <class From, class To>
std::string matrix_numbers(Matrix<From, To> const& m) {
  std::string text;
  for (double const value : {m.a, m.b, m.c, m.d, m.e, m.f}) text += (text.empty() ? "" : " ") + format_number(value, kDecimals);
  return text;
}

std::string content_of(Object stream) {
  std::string text;
  Pl_String out("content", nullptr, text);
  stream.pipeStreamData(&out, 0, qpdf_dl_generalized);
  return text;
}

/// What the content leaves open is no part of what follows: marked content, which may be on a layer that does not print, and a path, with the
/// clip that it may be about to become.
std::string kept_apart(std::string const& source, Object const& page) {
  std::string text = "q " + source;
  for (int open = open_marked_content(page); open > 0; --open) text += "EMC\n";
  return text + "n Q\n";
}

/// What knocks out is inside the form: on the laid page the annotations would knock out the form.
Object without_knockout(Object group) {
  if (!group.hasKey("/K")) return group;
  auto own = group.shallowCopy();
  own.removeKey("/K");
  return own;
}

/// A clip to a rectangle.
std::string clip_to(Rect<PageSpace> const& r) {
  std::string text;
  for (double const value : {r.x0, r.y0, r.width(), r.height()}) text += format_number(value, kDecimals) + " ";
  return text + "re W n\n";
}

void remove_all(Object dictionary) {
  for (auto const& key : dictionary.getKeys()) dictionary.removeKey(key);
}

}  // namespace

LaidPages::LaidPages(QPDF& pdf, PageForms& forms, Sheet const& sheet, std::string const& date)
    : pdf_(pdf), forms_(forms), type_(Object::newName("/Page")), date_(Object::newString(date)) {
  auto const page = sheet.page();
  box_ = number_array({page.x0, page.y0, page.x1, page.y1});
}

LaidPages::Inside LaidPages::from_source(Object page, Page const& described) {
  Inside inside;
  auto group = page.getKey("/Group");
  // The page keeps its group where that names the blending space: then what lies over paper is blended where it was before.
  inside.group = group.isDictionary() && !group.getKey("/CS").isNull() ? without_knockout(group) : Object::newNull();
  inside.resources = laid_resources(forms_.resources(page, described.number));
  auto const notes = flatten_annotations(pdf_, page, described, inside.resources);
  auto const source = name_source(inside.resources, forms_.make(page, described)) + " Do\n";
  inside.paint = (notes.empty() ? source : kept_apart(source, page) + notes) + "Q\n";
  inside.to_seen = described.to_seen;
  return inside;
}

LaidPages::Inside LaidPages::from_parted(Object page, Page const& described) {
  auto const known = parted_.find(described.number);
  if (known != parted_.end()) return known->second;
  return parted_.emplace(described.number, from_source(page, described)).first->second;
}

LaidPages::Inside LaidPages::from_laid(Object page, LayRecord const& record) {
  auto const content = content_of(record.plate.empty() ? page.getKey("/Contents") : content_without_plate(page));
  auto const end = content.find(kAfterMatrix);
  if (end == std::string::npos) throw std::runtime_error("a laid page without its matrix");
  auto const resources = record.plate.empty() ? page.getKey("/Resources") : resources_without_plate(page);
  return {content.substr(end + sizeof kAfterMatrix - 1), resources, page.getKey("/Group"), record.source_to_seen};
}

/// Pages of one size, one after another, are painted by the same few words.
Object LaidPages::content(std::string const& text) {
  if (text != last_text_ || last_content_.isNull()) last_content_ = pdf_.newStream(text);
  last_text_ = text;
  return last_content_;
}

void LaidPages::make(Object page, LaidPage const& wanted) {
  Page const& described = wanted.source;
  if (!described.usable || !described.clockwise) throw NotLaid("page " + std::to_string(described.number) + " has no size or no turn to go by");
  bool const is_laid = described.record && described.record->holds;
  auto const inside = is_laid ? from_laid(page, *described.record) : wanted.cut ? from_parted(page, described) : from_source(page, described);
  auto const matrix = then(inside.to_seen, wanted.placement);

  remove_all(page);
  page.replaceKey("/Type", type_);
  page.replaceKey("/MediaBox", box_);
  page.replaceKey("/TrimBox", box_);
  page.replaceKey("/Resources", inside.resources);
  page.replaceKey("/Group", inside.group);
  auto paint = inside.paint;
  if (wanted.cut)
    if (auto const back = inside.to_seen.inverted()) paint = clip_to(back->apply(*wanted.cut)) + paint;
  // Under the same matrix, so that they go with the art where the page is laid again.
  if (auto const back = matrix.inverted(); back && !wanted.beside.empty())
    paint = "q " + paint + "q " + matrix_numbers(*back) + kAfterMatrix + wanted.beside + "Q\nQ\n";
  page.replaceKey("/Contents", content("q " + matrix_numbers(matrix) + kAfterMatrix + paint));
  auto record = wanted.record;
  record.plate.clear();  // it is made anew from the laid page
  record.placement = wanted.placement;
  record.source_to_seen = inside.to_seen;
  write_record(page, record, date_, digests_);
}

}  // namespace layright
