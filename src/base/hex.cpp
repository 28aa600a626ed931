#include "base/hex.h"

#include <sys/random.h>

namespace layright {

std::string hexadecimal(std::span<std::byte const> bytes, HexDigits digits) {
  char const* const of = digits == HexDigits::small ? "0123456789abcdef" : "0123456789ABCDEF";
  std::string text;
  text.reserve(2 * bytes.size());
  for (auto const byte : bytes) {
    text += of[std::to_integer<unsigned>(byte) >> 4];
    text += of[std::to_integer<unsigned>(byte) & 15];
  }
  return text;
}

std::string random_hexadecimal(std::size_t bytes) {
  std::string random(bytes, '\0');
  if (getrandom(random.data(), random.size(), 0) != static_cast<ssize_t>(random.size())) return {};
  return hexadecimal(random);
}

}  // namespace layright
