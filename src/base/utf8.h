// UTF-8 (RFC 3629), by libunistring.
#pragma once
#include <cstddef>
#include <string>
#include <string_view>

namespace layright {

struct Utf8Character {
  char32_t code = 0;
  std::size_t bytes = 0;  // 0: what stands there is no character
};

/// The one that `text` begins with.
Utf8Character first_character(std::string_view text);

/// All of them; bytes that belong to none are passed over.
std::u32string characters_of(std::string_view text);

/// What is no Unicode scalar value becomes U+FFFD.
void append_utf8(std::string& out, char32_t code);

/// Half a surrogate pair becomes U+FFFD.
std::string utf8_of(std::u16string_view text);

/// As much of `text` as fits `most` bytes, never a part of a character.
std::string_view utf8_prefix(std::string_view text, std::size_t most);

/// Bytes that belong to no character become U+FFFD, one for each beginning of a character that breaks off (Unicode 15, 3.9, "best practice").
std::string valid_utf8(std::string_view text);

/// The same for all ways to write a name: capitals folded as Unicode does, letters composed (NFC), what is no character U+FFFD.
std::string case_folded(std::string_view text);

}  // namespace layright
