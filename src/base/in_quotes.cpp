#include "base/in_quotes.h"

#include "base/utf8.h"

namespace layright {

namespace {
constexpr std::size_t kMostBytes = 60;
}  // namespace

std::string in_quotes(std::string_view text) {
  bool const cut = text.size() > kMostBytes;
  std::string out = "\"";
  for (char const c : utf8_prefix(text, kMostBytes)) {
    auto const byte = static_cast<unsigned char>(c);
    out += byte < 0x20 || byte == 0x7F ? '?' : c;
  }
  return out + (cut ? "…\"" : "\"");
}

}  // namespace layright
