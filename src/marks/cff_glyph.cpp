#include "marks/cff_glyph.h"

#include <cstddef>
#include <cstdint>
#include <optional>

namespace layright {
namespace {

// A width, two hints with their masks, the end. Our own.
constexpr std::size_t kMostOfNothing = 12;

using Bytes = std::span<unsigned char const>;

/// Beyond the end there are zeros.
std::uint32_t number(Bytes bytes, std::size_t at, std::size_t size) {
  std::uint32_t n = 0;
  for (std::size_t i = 0; i < size; ++i) n = n << 8 | (at + i < bytes.size() ? bytes[at + i] : 0U);
  return n;
}

/// 5176, section 5: how many objects, then the offsets of each and of the end, counted from the byte before the first.
class Index {
 public:
  Index(Bytes font, std::size_t at) : font_(font), at_(at), count_(number(font, at, 2)), width_(number(font, at + 2, 1)) {}
  bool good() const { return count_ > 0 && width_ >= 1 && width_ <= 4 && data() <= font_.size(); }
  std::uint32_t count() const { return count_; }
  std::size_t end() const { return count_ == 0 ? at_ + 2 : data() + offset(count_) - 1; }
  /// Nothing where it does not lie in the font.
  std::optional<Bytes> object(std::uint32_t i) const {
    std::size_t const from = offset(i), to = offset(i + 1);
    if (from < 1 || to < from || data() + to - 1 > font_.size()) return std::nullopt;
    return font_.subspan(data() + from - 1, to - from);
  }

 private:
  std::size_t data() const { return at_ + 3 + (std::size_t{count_} + 1) * width_; }
  std::size_t offset(std::uint32_t i) const { return number(font_, at_ + 3 + std::size_t{i} * width_, width_); }
  Bytes font_;
  std::size_t at_;
  std::uint32_t count_, width_;
};

/// Its digits are halves of bytes, to one that is 15.
std::size_t after_real(Bytes dict, std::size_t i) {
  while (i < dict.size() && (dict[i] & 15) != 15 && dict[i] >> 4 != 15) ++i;
  return i + 1;
}

/// The last operand before the operator 17, CharStrings; 0 where there is none, or where outlines are of the older kind (5176, tables 3, 4 and 9).
std::size_t outlines_at(Bytes dict) {
  constexpr unsigned kOutlines = 17, kEscape = 12, kKind = 6, kShort = 28, kLong = 29, kReal = 30;
  std::size_t value = 0, found = 0;
  for (std::size_t i = 0; i < dict.size();) {
    unsigned const b = dict[i++];
    if (b == kShort) value = number(dict, i, 2), i += 2;
    else if (b == kLong) value = number(dict, i, 4), i += 4;
    else if (b == kReal) i = after_real(dict, i);
    else if (b >= 32 && b <= 246) value = b - 139;
    else if (b >= 247 && b <= 254) value = b <= 250 ? (b - 247) * 256 + number(dict, i, 1) + 108 : 0, ++i;
    else if (b == kEscape && number(dict, i++, 1) == kKind && value == 1) return 0;
    else if (b == kOutlines) found = value;
  }
  return found;
}

}  // namespace

bool cff_glyph_is_whole(Bytes font, int glyph, bool shows) {
  if (glyph < 0 || font.size() < 4 || font[0] != 1) return true;
  Index const names(font, font[2]);
  if (!names.good()) return true;
  Index const dicts(font, names.end());
  auto const dict = dicts.good() ? dicts.object(0) : std::nullopt;
  std::size_t const at = dict ? outlines_at(*dict) : 0;
  if (at == 0 || at >= font.size()) return true;
  Index const outlines(font, at);
  if (!outlines.good() || static_cast<std::uint32_t>(glyph) >= outlines.count()) return true;
  auto const outline = outlines.object(static_cast<std::uint32_t>(glyph));
  constexpr unsigned char kEnd = 14, kCall = 10, kCallGlobal = 29;
  if (!outline || outline->empty() || (!shows && outline->size() > kMostOfNothing)) return false;
  return outline->back() == kEnd || outline->back() == kCall || outline->back() == kCallGlobal;
}

}  // namespace layright
