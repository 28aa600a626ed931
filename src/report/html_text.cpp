#include "report/html_text.h"

#include <array>

#include "report/report.h"

namespace layright {
namespace {

/// Unicode's bidirectional formatting characters (UAX #9, 2) could show a name in another order than it has.
constexpr std::array<std::string_view, 12> kTurning{"\u200E", "\u200F", "\u061C", "\u202A", "\u202B", "\u202C",
                                                    "\u202D", "\u202E", "\u2066", "\u2067", "\u2068", "\u2069"};

}  // namespace

std::string html_text(std::string_view bytes) {
  std::string const shown = shown_name(bytes);
  std::string out;
  for (std::size_t i = 0; i < shown.size(); ++i) {
    std::string_view const rest = std::string_view(shown).substr(i);
    bool turned = false;
    for (auto const& mark : kTurning) {
      if (!rest.starts_with(mark)) continue;
      for (char const c : mark) {
        static constexpr char kHex[] = "0123456789abcdef";
        auto const b = static_cast<unsigned char>(c);
        out += {'\\', 'x', kHex[b >> 4], kHex[b & 15]};
      }
      i += mark.size() - 1;
      turned = true;
      break;
    }
    if (turned) continue;
    switch (shown[i]) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      case '\'': out += "&#39;"; break;
      default: out += shown[i];
    }
  }
  return out;
}

}  // namespace layright
