#include <algorithm>
#include <cstdio>

#include "report/json_turns.h"
#include "report/report.h"

namespace layright {
namespace {

/// Length of the well-formed UTF-8 sequence at `text`, or 0 (RFC 3629, section 4).
std::size_t utf8_length(std::string_view text) {
  auto const at = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  auto const tail = [&](std::size_t i, unsigned low = 0x80, unsigned high = 0xBF) { return i < text.size() && at(i) >= low && at(i) <= high; };
  unsigned const c = at(0);
  if (c < 0x80) return 1;
  if (c >= 0xC2 && c <= 0xDF) return tail(1) ? 2 : 0;
  if (c == 0xE0) return tail(1, 0xA0) && tail(2) ? 3 : 0;
  if (c == 0xED) return tail(1, 0x80, 0x9F) && tail(2) ? 3 : 0;
  if (c >= 0xE1 && c <= 0xEF) return tail(1) && tail(2) ? 3 : 0;
  if (c == 0xF0) return tail(1, 0x90) && tail(2) && tail(3) ? 4 : 0;
  if (c >= 0xF1 && c <= 0xF3) return tail(1) && tail(2) && tail(3) ? 4 : 0;
  if (c == 0xF4) return tail(1, 0x80, 0x8F) && tail(2) && tail(3) ? 4 : 0;
  return 0;
}

/// Characters that turn the order of the text around them, so that a name reads as another one (Unicode 15, UAX 9), or break the line.
bool turns_text(std::string_view character) {
  if (character == "\xD8\x9C") return true;  // U+061C
  if (character.size() != 3 || character[0] != '\xE2') return false;
  auto const second = static_cast<unsigned char>(character[1]), third = static_cast<unsigned char>(character[2]);
  if (second == 0x80) return third == 0x8E || third == 0x8F || (third >= 0xA8 && third <= 0xAE);  // U+200E, U+200F, U+2028 to U+202E
  return second == 0x81 && third >= 0xA6 && third <= 0xA9;                                        // U+2066 to U+2069
}

/// U+007F to U+009F, which some terminals take for commands.
bool steers_terminal(std::string_view character) {
  return character == "\x7F" || (character.size() == 2 && character[0] == '\xC2' && static_cast<unsigned char>(character[1]) < 0xA0);
}

}  // namespace

std::string shown_name(std::string_view bytes) {
  static constexpr char kHex[] = "0123456789abcdef";
  std::string out;
  while (!bytes.empty()) {
    auto const c = static_cast<unsigned char>(bytes[0]);
    std::size_t const n = utf8_length(bytes);
    auto const character = bytes.substr(0, n);
    bool const control = c < 0x20 || steers_terminal(character) || turns_text(character);
    if (n == 0 || control) {
      for (std::size_t i = 0; i < std::max<std::size_t>(n, 1); ++i) {
        auto const b = static_cast<unsigned char>(bytes[i]);
        out += {'\\', 'x', kHex[b >> 4], kHex[b & 15]};
      }
    } else {
      out += bytes.substr(0, n);
    }
    bytes.remove_prefix(std::max<std::size_t>(n, 1));
  }
  return out;
}

std::string with_turns_escaped(std::string json) {
  constexpr std::string_view kLeads = "\x7F\xC2\xD8\xE2";
  if (json.find_first_of(kLeads) == std::string::npos) return json;
  std::string out;
  for (std::string_view left = json; !left.empty();) {
    auto const plain = left.substr(0, std::min(left.find_first_of(kLeads), left.size()));
    out += plain;
    left.remove_prefix(plain.size());
    std::size_t const n = left.empty() ? 0 : utf8_length(left);
    auto const character = left.substr(0, std::max<std::size_t>(n, 1));
    if (turns_text(character) || steers_terminal(character)) {
      unsigned code = static_cast<unsigned char>(character[0]) & (n == 1 ? 0x7Fu : n == 2 ? 0x1Fu : 0x0Fu);
      for (char const c : character.substr(1)) code = code << 6 | (static_cast<unsigned char>(c) & 0x3Fu);
      char escape[8];
      std::snprintf(escape, sizeof escape, "\\u%04x", code & 0xFFFFu);
      out += escape;
    } else {
      out += character;
    }
    left.remove_prefix(std::min(character.size(), left.size()));
  }
  return out;
}

}  // namespace layright
