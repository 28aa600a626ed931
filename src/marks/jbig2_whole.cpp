#include "marks/jbig2_whole.h"

#include <cstddef>
#include <cstdint>

namespace layright {
namespace {

constexpr std::size_t kShortestSegment = 11, kPadding = 2;
constexpr std::uint32_t kUntold = 0xFFFFFFFF;  // its length is found by reading it (7.2.7)

std::uint32_t number(std::span<unsigned char const> bytes, std::size_t at, std::size_t size) {
  std::uint32_t n = 0;
  for (std::size_t i = 0; i < size && at + i < bytes.size(); ++i) n = n << 8 | bytes[at + i];
  return n;
}

}  // namespace

bool jbig2_is_whole(std::span<unsigned char const> bytes) {
  std::size_t at = 0;
  while (bytes.size() - at >= kShortestSegment) {
    std::uint32_t const own = number(bytes, at, 4);
    unsigned const flags = bytes[at + 4];
    at += 5;
    std::size_t referred = bytes[at] >> 5;
    if (referred == 7) {
      referred = number(bytes, at, 4) & 0x1FFFFFFF;
      at += 4 + (referred + 8) / 8;
    } else {
      ++at;
    }
    at += referred * (own <= 256 ? 1 : own <= 65536 ? 2 : 4) + (flags & 0x40 ? 4 : 1);
    if (at + 4 > bytes.size()) return false;
    std::uint32_t const length = number(bytes, at, 4);
    at += 4;
    if (length == kUntold) return true;
    if (length > bytes.size() - at) return false;
    at += length;
  }
  return bytes.size() - at <= kPadding;
}

}  // namespace layright
