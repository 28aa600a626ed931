// Cuts words into stretches that can be written as text and stretches that must be shaped and drawn.
#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace layright {

struct Stretch {
  bool plain = true;         // Latin, Greek, Cyrillic, figures, signs: text in the embedded font
  std::string text;          // UTF-8
  std::uint32_t script = 0;  // of what is not plain, so that each stretch finds a font of its own
};

/// `text` must be UTF-8; what is not becomes U+FFFD. `has_glyph` tells whether the embedded font has a character. Blanks between two
/// stretches of the same script stay with them.
template <class HasGlyph>
std::vector<Stretch> stretches(std::string_view text, HasGlyph const& has_glyph);

std::vector<std::uint32_t> code_points(std::string_view utf8);
std::string utf8(std::uint32_t code_point);
/// Latin, Greek, Cyrillic, or common to all (figures, punctuation, combining marks): Unicode's own script property, by HarfBuzz.
bool is_plain_script(std::uint32_t code_point);
/// A number for the Unicode script of a character; 0 for marks that belong to whatever stands before them.
std::uint32_t script_of(std::uint32_t code_point);
/// "U+4E2D U+6587".
std::string in_code_points(std::string_view utf8);

template <class HasGlyph>
std::vector<Stretch> stretches(std::string_view text, HasGlyph const& has_glyph) {
  std::vector<Stretch> result;
  std::string blanks;
  for (std::uint32_t c : code_points(text)) {
    if (c == ' ') {
      blanks += ' ';
      continue;
    }
    bool const plain = is_plain_script(c) && has_glyph(c);
    std::uint32_t const script = plain ? 0 : script_of(c);
    bool const goes_on = !result.empty() && result.back().plain == plain && (script == 0 || script == result.back().script);
    if (goes_on) {
      result.back().text += blanks;
    } else {
      // A drawn stretch has no blanks at its ends: they go to plain text beside it.
      if (!blanks.empty() && (!result.empty() && result.back().plain)) result.back().text += blanks, blanks.clear();
      if (!blanks.empty() && !plain) result.push_back({true, blanks, 0}), blanks.clear();
      result.push_back({plain, blanks, script});
    }
    blanks.clear();
    result.back().text += utf8(c);
  }
  return result;
}

}  // namespace layright
