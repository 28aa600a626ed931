// Bytes as hexadecimal digits.
#pragma once
#include <cstddef>
#include <span>
#include <string>
#include <string_view>

namespace layright {

enum class HexDigits { small, capital };

/// Two digits a byte.
std::string hexadecimal(std::span<std::byte const> bytes, HexDigits digits = HexDigits::small);
inline std::string hexadecimal(std::string_view bytes, HexDigits digits = HexDigits::small) {
  return hexadecimal(std::as_bytes(std::span(bytes)), digits);
}

/// Of so many bytes that nobody can foresee (at most 256); empty where there is no chance to be had.
std::string random_hexadecimal(std::size_t bytes);

}  // namespace layright
