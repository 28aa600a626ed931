#include "reading/letter_shape.h"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "reading/letter_shape_table.h"

namespace layright {
namespace {

constexpr int kSide = GlyphPicture::kSide;

// Thresholds, from tests/reading/shapes: over 110 fonts that it was not taught from, each with four choices of letters, the way that
// letters really lie is ahead of the best reversed way by 0.31 in the middle, 0.12 in the lowest twentieth and -0.02 at worst.
constexpr int kFewestLetters = 3;       // fewer never call a font reversed
constexpr int kEnoughLetters = 8;       // more are not asked for
constexpr double kLeastLikeness = 0.3;  // below: the letters are not what their names say, or drawn as nobody else does
constexpr int kEnoughOthers = 3;        // letters of unknown shape
constexpr double kClear = 0.12;         // ahead of the best way of the other kind, per letter
constexpr double kDoubt = 0.05;

// Base letters of U+00C0 to U+017F, for which only it matters whether they are symmetrical.
constexpr std::string_view kBases =
    "AAAAAAACEEEEIIIIDNOOOOO OUUUUYpBaaaaaaaceeeeiiiidnooooo ouuuuypyAaAaAaCcCcCcCcDdDdEeEeEeEeEeGgGgGgGgHhHhIiIiIiIiIiJjJjKkkLlLlLlLl"
    "LlNnNnNnnNnOoOoOoOoRrRrRrSsSsSsSsTtTtTtUuUuUuUuUuUuWwYyYZzZzZzs";
static_assert(kBases.size() == 0x180 - 0xC0);

constexpr std::string_view kSymmetricLatin = "AHIMOTUVWXYilmnouvwx08";
constexpr std::u32string_view kSymmetricOthers =
    U"ΑΔΗΘΙΛΜΝΞΟΠΤΥΦΧΨΩθινοπτυφψω"      // Greek
    U"АДЖИЙЛМНОПТФХШІЇджилмноптфхшії";  // Cyrillic

struct Span {
  int from, to;
};
// Letters beyond Latin: whole blocks, since here it only matters that they are letters (Unicode 15, Blocks.txt; from memory).
constexpr Span kLetterBlocks[] = {{0x0180, 0x02AF}, {0x0370, 0x1DBF},   {0x1E00, 0x1FFF},   {0x2C00, 0x2DFF},  {0x2E80, 0x2FDF},
                                  {0x3041, 0xD7FF}, {0xF900, 0xFDFF},   {0xFE70, 0xFEFC},   {0xFF21, 0xFF3A},  {0xFF41, 0xFF5A},
                                  {0xFF66, 0xFFDC}, {0x10000, 0x1BFFF}, {0x1D400, 0x1D7FF}, {0x20000, 0x3FFFF}};

bool is_latin_or_digit(int u) { return (u >= '0' && u <= '9') || (u >= 'A' && u <= 'Z') || (u >= 'a' && u <= 'z'); }

using Cells = std::array<double, kSide * kSide>;

/// What lies at row y, column x when the square is laid in way `way`: 0 to 3 are turns, 4 to 7 are reversed and turned.
std::size_t cell(int way, int x, int y) {
  if (way >= 4) x = kSide - 1 - x;
  for (int turns = way % 4; turns > 0; --turns) {
    int const old = x;
    x = y;
    y = kSide - 1 - old;
  }
  return static_cast<std::size_t>(y * kSide + x);
}

/// Mean 0, length 1; all zero for a flat picture.
template <class Level>
Cells normal(Level const& level) {
  Cells cells{};
  double sum = 0, squares = 0;
  for (std::size_t i = 0; i < cells.size(); ++i) sum += cells[i] = level(i);
  for (double& v : cells) v -= sum / static_cast<double>(cells.size()), squares += v * v;
  if (squares > 0)
    for (double& v : cells) v /= std::sqrt(squares);
  return cells;
}

/// Letters that look like a Latin one, and that one.
constexpr std::u32string_view kAlike = U"ΒΕΖΚΡΝВЕКРСЅЈаерсуѕјϲ", kLatin = U"BEZKPNBEKPCSJaepcysjc";
static_assert(kAlike.size() == kLatin.size());

int level_of(char hex) { return hex <= '9' ? hex - '0' : hex - 'a' + 10; }

}  // namespace

int letter_shape_index(int unicode) {
  auto letter = static_cast<char32_t>(unicode);
  if (auto const at = kAlike.find(letter); at != std::u32string_view::npos) letter = kLatin[at];
  for (int i = 0; i < kLetterShapeCount; ++i)
    if (kLetterShapes[i].letter == letter) return i;
  return -1;
}

MirrorSymmetry symmetry_of(int u) {
  if (u >= 0xC0 && u < 0x180) u = static_cast<unsigned char>(kBases[static_cast<std::size_t>(u - 0xC0)]);
  if (u < 0x80) {
    if (u < 0x20) return MirrorSymmetry::unnamed;
    if (!is_latin_or_digit(u)) return MirrorSymmetry::no_letter;
    return kSymmetricLatin.find(static_cast<char>(u)) != std::string_view::npos ? MirrorSymmetry::symmetric : MirrorSymmetry::asymmetric;
  }
  if (kSymmetricOthers.find(static_cast<char32_t>(u)) != std::u32string_view::npos) return MirrorSymmetry::symmetric;
  for (Span const& block : kLetterBlocks)
    if (u >= block.from && u <= block.to) return MirrorSymmetry::asymmetric;
  bool const private_use = (u >= 0xE000 && u <= 0xF8FF) || u == 0xFFFD || u >= 0xF0000;
  return private_use ? MirrorSymmetry::unnamed : MirrorSymmetry::no_letter;
}

bool FontShapeTest::wants(int unicode) const {
  int const index = letter_shape_index(unicode);
  if (index < 0) return others_ < kEnoughOthers && symmetry_of(unicode) != MirrorSymmetry::no_letter;
  return letters_ < kEnoughLetters && !(seen_[static_cast<std::size_t>(index / 64)] >> (index % 64) & 1u);
}

void FontShapeTest::add(int unicode, GlyphPicture const& picture) {
  if (picture.winding == Winding::usual) ++usual_;
  if (picture.winding == Winding::turned) ++turned_;
  int const index = letter_shape_index(unicode);
  if (index < 0) {
    ++others_;
    return;
  }
  seen_[static_cast<std::size_t>(index / 64)] |= std::uint64_t{1} << (index % 64);
  std::string_view const expected = kLetterShapes[static_cast<std::size_t>(index)].cells;
  Cells const want = normal([&](std::size_t i) { return static_cast<double>(level_of(expected[i])); });
  Cells const have = normal([&](std::size_t i) { return static_cast<double>(picture.ink[i]); });
  ++letters_;
  for (int way = 0; way < 8; ++way) {
    double likeness = 0;
    for (int y = 0; y < kSide; ++y)
      for (int x = 0; x < kSide; ++x) likeness += want[static_cast<std::size_t>(y * kSide + x)] * have[cell(way, x, y)];
    likeness_[static_cast<std::size_t>(way)] += likeness;
  }
}

FontShapeScore FontShapeTest::score() const {
  if (letters_ == 0) return {};
  return {letters_, *std::max_element(likeness_.begin(), likeness_.begin() + 4) / letters_,
          *std::max_element(likeness_.begin() + 4, likeness_.end()) / letters_};
}

FontShape FontShapeTest::shape() const {
  FontShapeScore const s = score();
  double const ahead = s.natural - s.reversed;
  bool const likely = std::max(s.natural, s.reversed) >= kLeastLikeness;
  if (likely && (ahead >= kClear || (ahead >= kDoubt && s.letters >= kFewestLetters))) return FontShape::natural;
  if (likely && -ahead >= kClear && s.letters >= kFewestLetters) return FontShape::reversed;
  bool const wound_wrong = turned_ > 0 && usual_ == 0;
  return -ahead >= kDoubt || wound_wrong ? FontShape::doubtful : FontShape::untested;
}

}  // namespace layright
