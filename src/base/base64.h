// Base64 (RFC 4648, section 4), by GnuTLS.
#pragma once
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace layright {

/// In one line.
std::string to_base64(std::span<std::byte const> bytes);

/// As files carry it: blanks between its letters are passed over, and the '=' at its end may lack. Nothing where anything else stands in it, or
/// something behind the '='.
std::optional<std::vector<std::byte>> from_base64(std::string_view text);

}  // namespace layright
