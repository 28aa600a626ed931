// Lengths and sizes as people write them. Only Error may come out; what is taken must be sound, and must survive being written and read
// again.
#include <cmath>
#include <cstdint>
#include <string_view>

#include "fuzz/require.h"
#include "geometry/length.h"
#include "sheet/sizes.h"

using namespace layright;
using test::require;

namespace {

/// People's numbers are rounded: to a thousandth of an inch.
bool near(Length a, Length b) { return std::abs((a - b).in_points()) <= 0.0005 * 72 + 1e-9; }

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(std::uint8_t const* data, std::size_t size) {
  std::string_view const text(reinterpret_cast<char const*>(data), size);
  if (auto const length = parse_length(text)) {
    require(std::isfinite(length->in_points()), "a length is finite");
    if (std::abs(length->in_points()) < 1e6) {
      auto const again = parse_length(format_length(*length, Unit::inch));
      require(again && near(*again, *length), "a length reads back as it was written");
    }
  } else {
    require(!length.error().message.empty(), "an error says something");
  }
  if (auto const sheet = parse_size(text)) {
    require(sheet->width.in_points() > 0 && sheet->width <= sheet->length, "the shorter side comes first and is there");
    require(sheet->length.in_points() <= 14400 + 1e-6, "no side passes 14,400 pt");
    if (sheet->width.in_points() > 1) {
      auto const again = parse_size(format_size(sheet->width, sheet->length, Unit::inch));
      require(again && near(again->width, sheet->width) && near(again->length, sheet->length), "a size reads back as it was written");
    }
    pwg_name(*sheet);
  } else {
    require(sheet.error().kind == ErrorKind::usage && !sheet.error().message.empty(), "a size that is none is a usage error");
  }
  return 0;
}
