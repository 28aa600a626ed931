// Rows of pixels in bits: pixel x is bit x % 64 of word x / 64; bits beyond the width are 0.
#pragma once
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace layright {

using BitRow = std::vector<std::uint64_t>;
using BitSpan = std::span<std::uint64_t const>;

constexpr std::size_t words_of(int width) { return (static_cast<std::size_t>(width) + 63) / 64; }

/// Clears what lies beyond the width.
inline void trim(std::span<std::uint64_t> row, int width) {
  if (width % 64 != 0) row.back() &= ~std::uint64_t{0} >> (64 - width % 64);
}

inline bool is_empty(BitSpan row) {
  std::uint64_t any = 0;
  for (auto const word : row) any |= word;
  return any == 0;
}

/// A picture of one bit a pixel, from the top row on; all clear at first.
class BitPicture {
 public:
  BitPicture(int width_, int height_) : width(width_), height(height_), words_(words_of(width_) * static_cast<std::size_t>(height_)) {}
  std::span<std::uint64_t> row(int y) { return std::span(words_).subspan(static_cast<std::size_t>(y) * words_of(width), words_of(width)); }
  BitSpan row(int y) const { return BitSpan(words_).subspan(static_cast<std::size_t>(y) * words_of(width), words_of(width)); }
  std::span<std::uint64_t> words() { return words_; }
  BitSpan words() const { return words_; }

  int width, height;

 private:
  std::vector<std::uint64_t> words_;
};

}  // namespace layright
