#include "convert/jpeg.h"

#include <algorithm>
#include <cstring>
#include <map>

#include "convert/bytes.h"
#include "convert/exif.h"
#include "convert/jpeg_whole.h"

namespace layright {
namespace {

// Markers: T.81, Table B.1.
constexpr int kSoi = 0xD8, kEoi = 0xD9, kSos = 0xDA, kApp0 = 0xE0, kApp1 = 0xE1, kApp2 = 0xE2, kApp13 = 0xED, kApp14 = 0xEE, kTem = 0x01;
bool is_restart(int marker) { return marker >= 0xD0 && marker <= 0xD7; }
bool is_frame(int marker) { return marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC; }

using namespace std::string_view_literals;

/// Reads the segments one after another; entropy-coded data is passed over, looking for the next marker only.
class Markers {
 public:
  explicit Markers(std::span<std::byte const> bytes) : bytes_(bytes), in_(bytes) {}

  Result<JpegFacts> read();

 private:
  Outcome frame(int marker, std::span<std::byte const> segment);
  void application(int marker, std::span<std::byte const> segment);
  void resources(std::span<std::byte const> segment);
  /// The place of the next 0xFF that begins a marker, from `at`; the end where there is none.
  std::size_t behind_data(std::size_t at) const;
  void settle();

  std::span<std::byte const> bytes_;
  Bytes in_;
  JpegFacts facts_;
  int components_ = 0;
  bool named_rgb_ = false, has_jfif_ = false, has_frame_ = false, has_scan_ = false;
  ExifFacts exif_;
  double resource_ppi_along_ = 0, resource_ppi_down_ = 0;
  std::map<int, std::span<std::byte const>> profile_;
  int profile_parts_ = 0;
};

std::size_t Markers::behind_data(std::size_t at) const {
  auto const* const data = reinterpret_cast<unsigned char const*>(bytes_.data());
  while (at + 1 < bytes_.size()) {
    auto const* const found = static_cast<unsigned char const*>(std::memchr(data + at, 0xFF, bytes_.size() - 1 - at));
    if (!found) break;
    at = static_cast<std::size_t>(found - data);
    if (data[at + 1] != 0 && data[at + 1] != 0xFF && !is_restart(data[at + 1])) return at;
    at += data[at + 1] == 0xFF ? 1 : 2;
  }
  return bytes_.size();
}

Outcome Markers::frame(int marker, std::span<std::byte const> segment) {
  Bytes const in(segment);
  if (has_frame_) return not_taken("it is a JPEG with several pictures in one", "ask the customer for an ordinary JPEG, a PNG or a TIFF");
  has_frame_ = true;
  if (marker > 0xC2)
    return not_taken(marker >= 0xC9 ? "it is an arithmetic-coded JPEG, which PDF and most printers cannot show"
                                    : "it is a lossless or hierarchical JPEG, which PDF and most printers cannot show",
                     "ask the customer for an ordinary JPEG, a PNG or a TIFF");
  if (in.u8(0) != 8)
    return not_taken("it is a JPEG of " + std::to_string(in.u8(0)) + " bit a channel", "ask the customer for one of 8 bit, or a TIFF");
  facts_.picture.height = in.u16(1);
  facts_.picture.width = in.u16(3);
  components_ = in.u8(5);
  std::string ids;
  for (int i = 0; i < components_; ++i) ids += static_cast<char>(in.u8(6 + 3 * static_cast<std::size_t>(i)));
  named_rgb_ = ids == "RGB";
  if (in.short_of()) return broken_picture("its header is too short");
  if (facts_.picture.height == 0 || facts_.picture.width == 0) return broken_picture("it does not say how large it is");
  if (components_ != 1 && components_ != 3 && components_ != 4)
    return not_taken("it is a JPEG of " + std::to_string(components_) + " channels", "ask for grey, RGB or CMYK");
  return done();
}

/// Image resources (the published file format of layered pictures): 1005 is the resolution, in sixteenths of sixteenths a pixel an inch.
void Markers::resources(std::span<std::byte const> segment) {
  Bytes const in(segment);
  std::size_t at = 0;
  while (at + 12 <= in.size() && in.text(at, 4) == "8BIM") {
    int const id = in.u16(at + 4);
    std::size_t const name = (in.u8(at + 6) + 2u) & ~1u;
    std::size_t const size = in.u32(at + 6 + name), data = at + 10 + name;
    if (id == 1005 && in.inside(data, 16)) {
      resource_ppi_along_ = in.u32(data) / 65536.0;
      resource_ppi_down_ = in.u32(data + 8) / 65536.0;
    }
    if (!in.inside(data, size)) return;
    at = data + ((size + 1) & ~std::size_t{1});
  }
}

void Markers::application(int marker, std::span<std::byte const> segment) {
  auto const text = text_of(segment);
  Bytes const in(segment);
  if (marker == kApp0 && text.starts_with("JFIF\0"sv)) {
    has_jfif_ = true;
    int const unit = in.u8(7);
    double const factor = unit == 1 ? 1 : unit == 2 ? 2.54 : 0;
    facts_.picture.along = in.u16(8) * factor;
    facts_.picture.down = in.u16(10) * factor;
  } else if (marker == kApp1 && text.starts_with("Exif\0\0"sv)) {
    exif_ = read_exif(segment);
  } else if (marker == kApp2 && text.starts_with("ICC_PROFILE\0"sv) && segment.size() > 14) {
    profile_parts_ = std::max(profile_parts_, static_cast<int>(in.u8(13)));
    profile_[in.u8(12)] = segment.subspan(14);
  } else if (marker == kApp13) {  // a name, a null, then image resources
    if (auto const name = text.find('\0'); name != std::string_view::npos) resources(segment.subspan(name + 1));
  } else if (marker == kApp14 && text.starts_with("Adobe"sv) && segment.size() >= 12) {
    facts_.adobe = true;
    facts_.transform = in.u8(11);
  }
}

void Markers::settle() {
  auto& p = facts_.picture;
  p.colour = components_ == 1 ? PictureColour::grey : components_ == 3 ? PictureColour::rgb : PictureColour::cmyk;
  p.orientation = exif_.orientation;
  if (p.along <= 0 || p.down <= 0) {
    p.along = exif_.along;
    p.down = exif_.down;
  }
  if (p.along <= 0 || p.down <= 0) {
    p.along = resource_ppi_along_;
    p.down = resource_ppi_down_;
  }
  for (int i = 1; i <= profile_parts_; ++i) {
    auto const part = profile_.find(i);
    if (part == profile_.end()) {
      p.icc.clear();
      break;
    }
    p.icc.insert(p.icc.end(), part->second.begin(), part->second.end());
  }
  p.inverted = components_ == 4 && facts_.adobe;
  facts_.filter = "/Filter /DCTDecode";
  // Without Adobe's marker a reader of PDF takes three channels for YCbCr (ISO 32000-1, Table 13), JPEG readers go by the channels' names.
  if (components_ == 3 && !facts_.adobe && named_rgb_ && !has_jfif_) facts_.filter += " /DecodeParms <</ColorTransform 0>>";
}

Result<JpegFacts> Markers::read() {
  std::size_t at = 2;
  while (true) {
    while (at + 1 < bytes_.size() && in_.u8(at) == 0xFF && in_.u8(at + 1) == 0xFF) ++at;
    if (at + 1 >= bytes_.size()) return cut_short();
    if (in_.u8(at) != 0xFF) return broken_picture("its parts do not follow one another");
    int const marker = in_.u8(at + 1);
    at += 2;
    if (marker == kEoi) break;
    if (marker == kSoi || marker == kTem || is_restart(marker)) continue;
    if (!in_.inside(at, 2)) return cut_short();
    std::size_t const length = in_.u16(at);
    if (length < 2) return broken_picture("a part of it has no length");
    if (!in_.inside(at, length)) return cut_short();
    auto const segment = bytes_.subspan(at + 2, length - 2);
    if (is_frame(marker)) {
      if (auto const read = frame(marker, segment); !read) return read.error();
    } else if (marker >= kApp0 && marker <= 0xEF) {
      application(marker, segment);
    }
    at += length;
    if (marker != kSos) continue;
    has_scan_ = true;
    at = behind_data(at);
    if (at >= bytes_.size()) return cut_short();
  }
  if (!has_frame_ || !has_scan_) return broken_picture("there is no picture in it");
  facts_.length = at;
  settle();
  return std::move(facts_);
}

}  // namespace

Result<JpegFacts> jpeg_facts(std::span<std::byte const> bytes) { return Markers(bytes).read(); }

Outcome read_jpeg(std::span<std::byte const> bytes, PictureSink& sink) {
  auto facts = jpeg_facts(bytes);
  if (!facts) return facts.error();
  if (auto const begun = sink.begin(std::move(facts->picture)); !begun) return begun;
  sink.encoded(facts->filter);
  auto const whole = bytes.first(facts->length);
  std::size_t given = 0;
  auto const give = [&](std::size_t upto) {
    if (upto <= given) return;
    sink.data(whole.subspan(given, upto - given));
    given = upto;
  };
  auto const looked = jpeg_is_whole(whole, give);
  if (!looked) return looked.error();
  if (!*looked) sink.remark(ConversionNote::Kind::told, "it is too large to be looked through for damage; look at the page before you print it");
  give(whole.size());
  return sink.end();
}

}  // namespace layright
