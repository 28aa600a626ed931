#include "base/utf8.h"

#include <unicase.h>
#include <uninorm.h>
#include <unistr.h>

#include <cstdint>
#include <cstdlib>

namespace layright {
namespace {

constexpr char32_t kReplacement = 0xFFFD;
constexpr int kBreaksOff = -2;  // what u8_mbtoucr says of the beginning of a character

std::uint8_t const* bytes_of(std::string_view text) { return reinterpret_cast<std::uint8_t const*>(text.data()); }

bool continues_character(char c) { return (static_cast<unsigned char>(c) & 0xC0) == 0x80; }

/// Bytes of the longest beginning of a character that `text`, which begins with none, has; at least one.
std::size_t broken_character(std::string_view text) {
  ucs4_t ignored = 0;
  std::size_t count = 1;
  while (count < text.size() && u8_mbtoucr(&ignored, bytes_of(text), count + 1) == kBreaksOff) ++count;
  return count;
}

}  // namespace

Utf8Character first_character(std::string_view text) {
  ucs4_t code = 0;
  int const bytes = text.empty() ? 0 : u8_mbtoucr(&code, bytes_of(text), text.size());
  return bytes > 0 ? Utf8Character{code, static_cast<std::size_t>(bytes)} : Utf8Character{};
}

std::u32string characters_of(std::string_view text) {
  std::u32string out;
  while (!text.empty()) {
    auto const character = first_character(text);
    if (character.bytes > 0) out += character.code;
    text.remove_prefix(character.bytes > 0 ? character.bytes : 1);
  }
  return out;
}

void append_utf8(std::string& out, char32_t code) {
  std::uint8_t bytes[4];
  int count = u8_uctomb(bytes, code, sizeof bytes);
  if (count < 1) count = u8_uctomb(bytes, kReplacement, sizeof bytes);
  out.append(reinterpret_cast<char const*>(bytes), static_cast<std::size_t>(count));
}

std::string utf8_of(std::u16string_view text) {
  std::string out;
  auto const* at = reinterpret_cast<std::uint16_t const*>(text.data());
  for (auto const* const end = at + text.size(); at < end;) {
    ucs4_t code = 0;
    at += u16_mbtouc(&code, at, static_cast<std::size_t>(end - at));
    append_utf8(out, code);
  }
  return out;
}

std::string_view utf8_prefix(std::string_view text, std::size_t most) {
  if (text.size() <= most) return text;
  while (most > 0 && continues_character(text[most])) --most;
  return text.substr(0, most);
}

std::string valid_utf8(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    auto const* const bad = u8_check(bytes_of(text), text.size());
    auto const good = bad ? static_cast<std::size_t>(bad - bytes_of(text)) : text.size();
    out += text.substr(0, good);
    text.remove_prefix(good);
    if (text.empty()) break;
    append_utf8(out, kReplacement);
    text.remove_prefix(broken_character(text));
  }
  return out;
}

std::string case_folded(std::string_view text) {
  std::size_t length = 0;
  auto* const folded = u8_casefold(bytes_of(text), text.size(), nullptr, UNINORM_NFC, nullptr, &length);
  if (!folded) return std::string(text);
  std::string out(reinterpret_cast<char const*>(folded), length);
  std::free(folded);
  return out;
}

}  // namespace layright
