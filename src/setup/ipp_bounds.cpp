#include "setup/ipp_bounds.h"

namespace layright {
namespace {

constexpr unsigned char kBeginCollection = 0x34, kEndCollection = 0x37;  // RFC 8010, 3.5.2

}  // namespace

// RFC 8010, 3.1: a tag of 1 byte, a length of 2 and the name, a length of 2 and the value; a length of 0 has no piece behind it.
bool IppBounds::take(unsigned char const* bytes, std::size_t count) {
  taken_ += count;
  if (taken_ > kLongest) broken_ = "is longer than 16 MB";
  bool const is_value = value_next_;
  value_next_ = !is_value && count == 2 && (bytes[0] != 0 || bytes[1] != 0);
  if (!is_value && count == 1) {
    if (bytes[0] == kBeginCollection) ++depth_;
    if (bytes[0] == kEndCollection) --depth_;
    if (depth_ > kDeepest) broken_ = "nests its collections more than 16 deep";
  }
  return !broken_;
}

}  // namespace layright
