#include "convert/svg_css.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdint>

#include "base/utf8.h"

namespace layright {
namespace {

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

/// Where `word`, in lower case, comes next, in whatever capitals.
std::size_t find_word(std::string_view text, std::string_view word, std::size_t from) {
  auto const begin = text.begin() + static_cast<std::ptrdiff_t>(std::min(from, text.size()));
  auto const found = std::search(begin, text.end(), word.begin(), word.end(), [](char a, char b) { return lower(a) == b; });
  return found == text.end() ? std::string_view::npos : static_cast<std::size_t>(found - text.begin());
}

}  // namespace

std::string plain_css(std::string_view css) {
  std::string out;
  for (std::size_t at = 0; at < css.size();) {
    if (css.substr(at, 2) == "/*") {
      auto const end = css.find("*/", at + 2);
      at = end == std::string_view::npos ? css.size() : end + 2;
      continue;
    }
    if (css[at] != '\\' || at + 1 >= css.size()) {
      out += css[at++];
      continue;
    }
    std::uint32_t code = 0;
    auto const escape = css.substr(at + 1, 6);
    auto const digits = static_cast<std::size_t>(std::from_chars(escape.data(), escape.data() + escape.size(), code, 16).ptr - escape.data());
    if (digits == 0) {
      out += css[at + 1];
      at += 2;
      continue;
    }
    append_utf8(out, code);
    at += 1 + digits;
    if (at < css.size() && (css[at] == ' ' || css[at] == '\n' || css[at] == '\t')) ++at;
  }
  return out;
}

void each_css_address(std::string_view css, std::function<void(std::string_view)> const& report) {
  for (auto at = find_word(css, "url(", 0); at != std::string_view::npos; at = find_word(css, "url(", at + 4)) {
    auto const end = css.find(')', at);
    if (end == std::string_view::npos) break;
    report(css.substr(at + 4, end - at - 4));
  }
  constexpr std::string_view kImport = "@import";
  for (auto at = find_word(css, kImport, 0); at != std::string_view::npos; at = find_word(css, kImport, at + 1)) {
    auto const rest = css.substr(at + kImport.size());
    auto const wanted = rest.substr(0, rest.find(';'));
    if (find_word(wanted, "url(", 0) == std::string_view::npos) report(wanted);
  }
}

void each_css_family(std::string_view css, std::function<void(std::string_view)> const& report) {
  constexpr std::string_view kFamily = "font-family";
  for (auto at = find_word(css, kFamily, 0); at != std::string_view::npos; at = find_word(css, kFamily, at + 1)) {
    auto const colon = css.find_first_not_of(" \t\r\n", at + kFamily.size());
    if (colon == std::string_view::npos || css[colon] != ':') continue;
    report(css.substr(colon + 1, std::min(css.find_first_of(";}<", colon), css.size()) - colon - 1));
  }
}

}  // namespace layright
