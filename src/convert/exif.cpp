#include "convert/exif.h"

#include "convert/bytes.h"

namespace layright {
namespace {
constexpr int kOrientation = 274, kXResolution = 282, kYResolution = 283, kResolutionUnit = 296;
constexpr int kShort = 3, kRational = 5;
constexpr double kCentimetresAnInch = 2.54;
}  // namespace

ExifFacts read_exif(std::span<std::byte const> bytes) {
  if (text_of(bytes).starts_with(std::string_view("Exif\0\0", 6))) bytes = bytes.subspan(6);
  ExifFacts facts;
  auto const start = text_of(bytes).substr(0, 2);
  if (start != "II" && start != "MM") return facts;
  Bytes const in(bytes, start == "II");
  if (in.u16(2) != 42) return facts;
  std::size_t const directory = in.u32(4);
  int const entries = in.u16(directory);
  int unit = 2;
  for (int i = 0; i < entries && !in.short_of(); ++i) {
    std::size_t const at = directory + 2 + 12 * static_cast<std::size_t>(i);
    int const tag = in.u16(at), type = in.u16(at + 2);
    if (type == kShort && tag == kOrientation) facts.orientation = in.u16(at + 8);
    if (type == kShort && tag == kResolutionUnit) unit = in.u16(at + 8);
    if (type != kRational || (tag != kXResolution && tag != kYResolution)) continue;
    std::size_t const value = in.u32(at + 8);
    double const above = in.u32(value), below = in.u32(value + 4);
    (tag == kXResolution ? facts.along : facts.down) = below > 0 ? above / below : 0;
  }
  if (facts.orientation < 1 || facts.orientation > 8) facts.orientation = 1;
  double const factor = unit == 2 ? 1 : unit == 3 ? kCentimetresAnInch : 0;
  facts.along *= factor;
  facts.down *= factor;
  return facts;
}

}  // namespace layright
