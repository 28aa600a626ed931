#include "base/in_quotes.h"

namespace layright {

namespace {
constexpr std::size_t kMostBytes = 60;

bool continues_character(char c) { return (static_cast<unsigned char>(c) & 0xC0) == 0x80; }
}  // namespace

std::string in_quotes(std::string_view text) {
  bool const cut = text.size() > kMostBytes;
  if (cut) {
    std::size_t end = kMostBytes;
    while (end > 0 && continues_character(text[end])) --end;
    text = text.substr(0, end);
  }
  std::string out = "\"";
  for (char const c : text) {
    auto const byte = static_cast<unsigned char>(c);
    out += byte < 0x20 || byte == 0x7F ? '?' : c;
  }
  return out + (cut ? "…\"" : "\"");
}

}  // namespace layright
