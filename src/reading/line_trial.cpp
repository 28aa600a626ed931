#include "reading/line_trial.h"

#include <algorithm>
#include <map>
#include <string_view>

namespace layright {
namespace {

// Doubt added for what text seldom has: chosen on the teaching pages of tests/reading, where letters of another script that were taken
// for Latin ones mix cases and digits.
constexpr double kOdd = 0.1;
constexpr double kMissing = 0.06;
constexpr std::size_t kPattern = 6;  // characters: a short word may well be one letter for the most part

// Capitals that are the same in a mirror, or in a mirror turned upside down, and small letters likewise.
constexpr std::string_view kTwoFaced = "ABCDEHIKMOTUVWXYbcdilmnopquvwx0138-|";

bool is_upper(int c) { return (c >= 'A' && c <= 'Z') || (c >= 0x391 && c <= 0x3A9) || (c >= 0x410 && c <= 0x42F); }
bool is_lower(int c) { return (c >= 'a' && c <= 'z') || (c >= 0xDF && c < 0x180) || (c >= 0x3AC && c <= 0x3CE) || (c >= 0x430 && c <= 0x45F); }
bool is_digit(int c) { return c >= '0' && c <= '9'; }
bool is_letter(int c) { return is_upper(c) || is_lower(c) || c >= 0xC0; }

bool is_small(int c) { return is_letter(c) && !is_upper(c); }

/// Characters that seldom stand where they stand.
double oddities(ReadWord const& word) {
  double odd = 0;
  for (std::size_t i = 0; i < word.characters.size(); ++i) {
    int const c = word.characters[i], before = i > 0 ? word.characters[i - 1] : 0;
    bool const last = i + 1 == word.characters.size();
    if (!is_letter(c) && !is_digit(c)) odd += (last && (c == '.' || c == ',' || c == '!')) || c == '-' || c == '\'' || c == '&' ? 0.3 : 1;
    if (is_lower(before) && is_upper(c)) odd += 1;
    if (before && is_digit(c) != is_digit(before) && (is_small(c) || is_small(before)))
      odd += 1;  // capitals and numbers stand side by side on shirts
  }
  return odd;
}

GreyPicture lie(GreyPicture const& strip, Way way) {
  bool const across = way == Way::turned || way == Way::reversed, down = way == Way::turned || way == Way::reversed_turned;
  GreyPicture out = strip;
  std::size_t const w = static_cast<std::size_t>(strip.width);
  if (down)
    for (int y = 0; y < strip.height; ++y)
      std::copy_n(strip.pixels.begin() + static_cast<std::ptrdiff_t>(static_cast<std::size_t>(strip.height - 1 - y) * w), w,
                  out.pixels.begin() + static_cast<std::ptrdiff_t>(static_cast<std::size_t>(y) * w));
  if (across)
    for (int y = 0; y < strip.height; ++y) {
      auto const row = out.pixels.begin() + static_cast<std::ptrdiff_t>(static_cast<std::size_t>(y) * w);
      std::reverse(row, row + static_cast<std::ptrdiff_t>(w));
    }
  return out;
}

}  // namespace

LineTrial read_way(LetterEngine& engine, std::size_t language, GreyPicture const& strip, Way way) {
  LineTrial trial;
  trial.words = engine.read_line(lie(strip, way), language);
  double doubt = 0;
  for (ReadWord const& word : trial.words) {
    for (double s : word.sureness) doubt += 1 - s;
    doubt += kOdd * oddities(word);
    trial.characters += static_cast<double>(word.characters.size());
  }
  if (trial.characters > 0) trial.doubt = doubt / trial.characters;
  return trial;
}

double doubt_of(LineTrial const& trial, double expected) {
  if (trial.characters <= 0) return 1;
  double const missing = std::max(0.0, expected - trial.characters);
  return (trial.doubt * trial.characters + kMissing * missing) / (trial.characters + missing);
}

double decisive_letters(std::vector<ReadWord> const& words) {
  std::map<int, std::size_t> counts;
  std::size_t all = 0, most = 0;
  double decisive = 0;
  for (ReadWord const& word : words)
    for (int c : word.characters) {
      most = std::max(most, ++counts[c]);
      ++all;
      if ((is_letter(c) || is_digit(c)) && (c >= 0x80 || kTwoFaced.find(static_cast<char>(c)) == std::string_view::npos)) ++decisive;
    }
  // One letter over and over is what the engine makes of a pattern.
  return all >= kPattern && 2 * most > all ? 0 : decisive;
}

}  // namespace layright
