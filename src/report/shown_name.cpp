#include <algorithm>
#include <cstdio>

#include "base/hex.h"
#include "base/utf8.h"
#include "report/json_turns.h"
#include "report/report.h"

namespace layright {
namespace {

/// Characters that turn the order of the text around them, so that a name reads as another one (Unicode 15, UAX 9), or break the line.
bool turns_text(char32_t c) { return c == 0x061C || c == 0x200E || c == 0x200F || (c >= 0x2028 && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069); }

/// U+007F to U+009F, which some terminals take for commands.
bool steers_terminal(char32_t c) { return c >= 0x7F && c <= 0x9F; }

}  // namespace

std::string shown_name(std::string_view bytes) {
  std::string out;
  while (!bytes.empty()) {
    auto const [code, count] = first_character(bytes);
    auto const character = bytes.substr(0, std::max<std::size_t>(count, 1));
    if (count > 0 && code >= 0x20 && !steers_terminal(code) && !turns_text(code)) out += character;
    else
      for (char const& byte : character) out += "\\x" + hexadecimal({&byte, 1});
    bytes.remove_prefix(character.size());
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
    auto const [code, count] = first_character(left);
    auto const character = left.substr(0, std::max<std::size_t>(count, 1));
    if (count > 0 && (turns_text(code) || steers_terminal(code))) {
      char escape[8];
      std::snprintf(escape, sizeof escape, "\\u%04x", static_cast<unsigned>(code));
      out += escape;
    } else {
      out += character;
    }
    left.remove_prefix(character.size());
  }
  return out;
}

}  // namespace layright
