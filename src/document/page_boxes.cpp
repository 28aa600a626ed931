#include "document/page_boxes.h"

#include <cmath>

#include "document/numbers.h"
#include "geometry/length.h"

namespace layright {
namespace {

using PageRect = Rect<PageSpace>;

// ISO 32000-1, Annex C.2: a page is 3 to 14,400 units a side.
constexpr double kLeastSide = 3, kMostSide = 14400;
// Beyond this no reader places marks to within a tenth of a unit (they count in 32-bit floats). Our own.
constexpr double kMostCoordinate = 1e6;
// Rounding of a box written with few decimals is not "beyond the media box". Our own.
constexpr double kBoxNoise = 0.01;
// What readers take where no media box is to be found: 8.5 x 11 in. Common practice, no published source.
constexpr PageRect kAssumedMedia{0, 0, 612, 792};
// UserUnit has no published limit; outside of these a page of 3 to 14,400 units is no thing that can be printed. Our own.
constexpr double kLeastUnit = 0.001, kMostUnit = 1000;

struct ReadBox {
  std::optional<PageRect> box;
  std::string fault;  // why there is none, or empty where nothing is written
};

ReadBox read_box(QPDFObjectHandle value) {
  if (value.isNull()) return {};
  if (!value.isArray()) return {std::nullopt, "is not four numbers"};
  auto const corners = numbers_of<4>(value);
  if (!corners || value.getArrayNItems() != 4) return {std::nullopt, "is not four numbers"};
  auto const& n = *corners;
  for (double const x : n)
    if (!(std::abs(x) <= kMostCoordinate)) return {std::nullopt, "has a coordinate beyond all reason (more than 1,000,000 units)"};
  auto const box = PageRect::from_corners(n[0], n[1], n[2], n[3]);
  if (!(box.width() > 0) || !(box.height() > 0)) return {std::nullopt, "has no area"};
  return {box, ""};
}

void not_usable(Page& page, std::string trouble) {
  page.usable = false;
  if (page.trouble.empty()) page.trouble = std::move(trouble);
}

void report_size_limits(Page& page, PageRect const& box, std::string const& name) {
  auto const sides = format_number(box.width(), 2) + " x " + format_number(box.height(), 2) + " units";
  if (box.width() > kMostSide || box.height() > kMostSide)
    page.box_faults.push_back({name, "is " + sides + ", over the limit of 14,400 units a side", true});
  if (box.width() < kLeastSide || box.height() < kLeastSide)
    page.box_faults.push_back({name, "is " + sides + ", under the least size of 3 units a side", true});
}

PageRect read_media(PageTree const& tree, Page& page) {
  auto media = read_box(tree.inherited(page.number, "/MediaBox"));
  if (media.box) {
    report_size_limits(page, *media.box, "MediaBox");
    return *media.box;
  }
  if (media.fault.empty()) {
    page.box_faults.push_back({"MediaBox", "is missing; 612 x 792 units are taken for it, as readers do", true});
    return kAssumedMedia;
  }
  page.box_faults.push_back({"MediaBox", media.fault, false});
  not_usable(page, "its MediaBox " + media.fault);
  return kAssumedMedia;
}

PageRect read_crop(PageTree const& tree, Page& page, PageRect const& media) {
  auto crop = read_box(tree.inherited(page.number, "/CropBox"));
  if (!crop.box) {
    if (!crop.fault.empty()) page.box_faults.push_back({"CropBox", crop.fault + "; the media box is taken", true});
    return media;
  }
  auto const seen = intersection(*crop.box, media);
  if (!seen || !(seen->width() > 0) || !(seen->height() > 0)) {
    page.box_faults.push_back({"CropBox", "lies wholly outside the media box", false});
    not_usable(page, "its CropBox lies wholly outside its MediaBox, so nothing of the page is seen");
    return media;
  }
  if (!media.contains(*crop.box, kBoxNoise))
    page.box_faults.push_back({"CropBox", "reaches beyond the media box; what lies outside counts as not there", true});
  if (*seen != media && (seen->width() < kLeastSide || seen->height() < kLeastSide)) report_size_limits(page, *seen, "CropBox");
  return *seen;
}

// BleedBox, TrimBox and ArtBox are a page's own: never inherited (ISO 32000-1, Table 30).
PageRect read_own_box(QPDFObjectHandle dictionary, std::string const& name, Page& page, bool* is_there = nullptr) {
  std::string const key = "/" + name;
  auto own = dictionary.hasKey(key) ? read_box(dictionary.getKey(key)) : ReadBox{};
  if (is_there) *is_there = own.box.has_value();
  if (!own.box) {
    if (!own.fault.empty()) page.box_faults.push_back({name, own.fault + "; the crop box is taken", true});
    return page.boxes.crop;
  }
  if (!page.boxes.media.contains(*own.box, kBoxNoise)) page.box_faults.push_back({name, "reaches beyond the media box", true});
  return *own.box;
}

void read_rotation(QPDFObjectHandle rotate, Page& page) {
  if (rotate.isNull()) {
    page.rotate_as_written = "0";
    return;
  }
  page.rotate_as_written = rotate.isScalar() ? rotate.unparseResolved() : std::string(rotate.getTypeName());
  auto const degrees = number_of(rotate);
  page.clockwise =
      degrees && std::abs(*degrees) < 1e15 && std::floor(*degrees) == *degrees ? turn_of(static_cast<long long>(*degrees)) : std::nullopt;
}

void read_unit(QPDFObjectHandle unit, Page& page) {
  auto const value = number_of(unit);
  if (!value || !(*value > 0)) {
    page.box_faults.push_back({"UserUnit", "is not a number above 0; 1 is taken", true});
    return;
  }
  if (*value < kLeastUnit || *value > kMostUnit) {
    page.box_faults.push_back({"UserUnit", "is beyond all reason (outside 0.001 to 1,000)", false});
    not_usable(page, "its UserUnit is beyond all reason (outside 0.001 to 1,000)");
    return;
  }
  page.user_unit = *value;
}

}  // namespace

void read_boxes(PageTree const& tree, Page& page) {
  auto dictionary = tree.page(page.number);
  page.boxes.media = read_media(tree, page);
  page.boxes.crop = read_crop(tree, page, page.boxes.media);
  page.boxes.bleed = read_own_box(dictionary, "BleedBox", page);
  page.boxes.trim = read_own_box(dictionary, "TrimBox", page, &page.has_trim);
  page.boxes.art = read_own_box(dictionary, "ArtBox", page);
  read_rotation(tree.inherited(page.number, "/Rotate"), page);
  if (dictionary.hasKey("/UserUnit")) read_unit(dictionary.getKey("/UserUnit"), page);
  if (!page.usable || !page.clockwise) return;
  page.to_seen = page_to_seen(page.boxes.crop, *page.clockwise, page.user_unit);
  page.seen = seen_size(page.boxes.crop, *page.clockwise, page.user_unit);
}

}  // namespace layright
