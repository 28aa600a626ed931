#include "write/plate_proof.h"

#include <exception>

#include <qpdf/QPDF.hh>

#include "document/lay_record.h"
#include "document/page_tree.h"
#include "write/plate_paint.h"

namespace layright {
namespace {

using Object = QPDFObjectHandle;

/// What a page shows, by a digest that does not depend on how it is stored.
std::string shown(Document& document, Object page) {
  StreamList decoded;
  auto bare = document.library().makeIndirectObject(page.shallowCopy());
  for (auto const* key : {"/PieceInfo", "/LastModified", "/Parent"}) bare.removeKey(key);
  return PageDigests().of_new(bare, decoded);
}

bool says(Object stream, std::string const& text) {
  if (!stream.isStream()) return false;
  auto const data = stream.getStreamData(qpdf_dl_generalized);
  return std::string_view(reinterpret_cast<char const*>(data->getBuffer()), data->getSize()) == text;
}

/// The picture and its ink, among the resources of the page that it lies on.
std::string picture_difference(Object resources, WhitePlate const& plate, std::string const& ink) {
  if (!is_separation(resources.getKey("/ColorSpace").getKey(kPlateName), ink)) return "the plate has another ink";
  auto picture = resources.getKey("/XObject").getKey(kPlateName);
  auto dictionary = picture.getDict();
  for (auto const& [key, value] : picture_entries(plate.picture))
    if (dictionary.getKey(key).unparseResolved() != Object(value).unparseResolved()) return "the plate's picture is another one";
  auto const raw = picture.getRawStreamData();
  if (!dictionary.getKey("/Filter").isNameAndEquals(plate_filter(plate.picture)) ||
      std::string_view(reinterpret_cast<char const*>(raw->getBuffer()), raw->getSize()) != plate.picture.data)
    return "the plate's pixels are others";
  return {};
}

std::string art_difference(Document& laid, Document& plated, int before_number, int after_number, WhitePlate const& plate, PlateForm const& form) {
  auto before = laid.tree().page(before_number), after = plated.tree().page(after_number);
  auto const record = plated.page(after_number).record;
  if (!record || !record->holds) return "its record does not hold";
  auto const reported = plate_record(plate, form.as);
  if (record->plate != reported || record->is_plate) return "its record tells of another plate";
  if (reported.empty()) return shown(laid, before) != shown(plated, after) ? "it has no white, and differs" : std::string();
  bool const spot = form.as == PlateAs::spot;
  auto const more = spot ? plate_paint(plate, form.as) : register_paint(plate, false);
  auto contents = after.getKey("/Contents");
  bool const painted =
      more.empty() ? contents.isStream() : contents.isArray() && contents.getArrayNItems() == 2 && says(contents.getArrayItem(1), more);
  if (!painted) return "the plate is painted otherwise";
  auto bare = after.shallowCopy(), plain = before.shallowCopy();
  bare.replaceKey("/Contents", content_without_plate(after));
  bare.replaceKey("/Resources", resources_without_plate(after));
  plain.replaceKey("/Resources", resources_without_plate(before));  // lists that are empty fall away on both sides
  if (shown(plated, bare) != shown(laid, plain)) return "something else than its plate was added or changed";
  if (!spot) return {};
  auto resources = after.getKey("/Resources");
  auto state = resources.getKey("/ExtGState").getKey(kPlateName);
  if (!state.isDictionary() || !state.getKey("/BM").isNameAndEquals("/Multiply")) return "the plate would hide what lies beneath";
  return picture_difference(resources, plate, form.ink);
}

/// Of a page that is a plate.
std::string plate_difference(Document& file, int number, WhitePlate const& plate, PlateForm const& form) {
  auto const described = file.page(number);
  if (!described.record || !described.record->holds || !described.record->is_plate) return "its record does not say that it is a plate";
  if (described.record->plate != plate_record(plate, form.as)) return "its record tells of another plate";
  auto page = file.tree().page(number);
  for (auto const& key : page.getKeys())
    if (key != "/Type" && key != "/Parent" && key != "/MediaBox" && key != "/TrimBox" && key != "/Resources" && key != "/Contents" &&
        key != "/PieceInfo" && key != "/LastModified")
      return "it has something that a plate has not";
  if (!says(page.getKey("/Contents"), plate_paint(plate, form.as) + register_paint(plate, true))) return "the plate is painted otherwise";
  return plate.picture.width == 0 ? std::string() : picture_difference(page.getKey("/Resources"), plate, form.ink);
}

std::string place_words(int number, std::string const& how) { return how.empty() ? how : "page " + std::to_string(number) + ": " + how; }

std::string difference(Document& laid, Document& plated, std::vector<WhitePlate> const& plates, PlateForm const& form) {
  for (auto* const document : {&laid, &plated}) expect_to_lay(*document);  // its objects stay
  int const count = static_cast<int>(plates.size()), each = form.as == PlateAs::page ? 2 : 1;
  if (laid.page_count() != count || plated.page_count() != count * each) return "it has another number of pages";
  for (int n = 1; n <= count; ++n) {
    auto const& plate = plates[static_cast<std::size_t>(n - 1)];
    int const at = each * (n - 1) + (each == 2 && form.first ? 2 : 1);
    if (auto how = art_difference(laid, plated, n, at, plate, form); !how.empty()) return place_words(at, how);
    if (each == 1) continue;
    int const own = form.first ? at - 1 : at + 1;
    if (auto how = plate_difference(plated, own, plate, form); !how.empty()) return place_words(own, how);
    auto const seen = plated.page(own).seen, art = plated.page(at).seen;
    if (seen.width != art.width || seen.height != art.height) return place_words(own, "it is not as large as the art's page");
  }
  return {};
}

template <class Compare>
Outcome outcome_of(Compare const& compare) {
  std::string how = "it cannot be read again";
  try {
    how = compare();
  } catch (std::exception const&) {
  }
  return how.empty() ? done() : Outcome(Error{ErrorKind::internal, how});
}

}  // namespace

Outcome prove_plates(Document& laid, Document& plated, std::vector<WhitePlate> const& plates, PlateForm const& form) {
  return outcome_of([&] { return difference(laid, plated, plates, form); });
}

Outcome prove_plate_file(Document& file, std::vector<WhitePlate> const& plates, PlateForm const& form) {
  return outcome_of([&]() -> std::string {
    expect_to_lay(file);
    if (file.page_count() != static_cast<int>(plates.size())) return "the file of the plate has another number of pages";
    for (int n = 1; n <= file.page_count(); ++n)
      if (auto how = plate_difference(file, n, plates[static_cast<std::size_t>(n - 1)], form); !how.empty())
        return "the file of the plate: " + place_words(n, how);
    return {};
  });
}

}  // namespace layright
