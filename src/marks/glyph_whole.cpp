#include "marks/glyph_whole.h"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>

#include "marks/cff_glyph.h"

namespace layright {
namespace {

using Bytes = std::span<unsigned char const>;

constexpr std::uint32_t tag(char const (&name)[5]) {
  return static_cast<std::uint32_t>(name[0]) << 24 | static_cast<std::uint32_t>(name[1]) << 16 | static_cast<std::uint32_t>(name[2]) << 8 |
         static_cast<std::uint32_t>(name[3]);
}

constexpr std::size_t kPadding = 3;  // bytes that a last table may lack: tables begin at multiples of four
constexpr int kDeepest = 6;          // glyphs made of glyphs
// A head, and no instructions; on to the next multiple of four. More zeros are an outline that was written over (our own).
constexpr std::uint32_t kMostOfNothing = 12;
constexpr std::uint32_t kOutlines = tag("OTTO");

std::uint32_t number(Bytes bytes, std::size_t at, std::size_t size) {
  std::uint32_t n = 0;
  for (std::size_t i = 0; i < size; ++i) n = n << 8 | (at + i < bytes.size() ? bytes[at + i] : 0U);
  return n;
}

/// A font as its tables. All of them lie in it, and those that every reader wants are there.
struct Tables {
  Bytes head, maxp, loca, glyf, cff;
  bool outlines = false;  // in the table of CFF, not in `glyf`
};

std::optional<Tables> tables_of(Bytes font) {
  Tables found;
  found.outlines = number(font, 0, 4) == kOutlines;
  bool hhea = false, hmtx = false;
  std::size_t const count = number(font, 4, 2);
  for (std::size_t i = 0; i < count; ++i) {
    std::size_t const at = 12 + 16 * i;
    if (at + 16 > font.size()) return std::nullopt;
    std::size_t const from = number(font, at + 8, 4), size = number(font, at + 12, 4);
    if (from + size > font.size() + kPadding) return std::nullopt;
    Bytes const table = from < font.size() ? font.subspan(from, from + size <= font.size() ? size : font.size() - from) : Bytes();
    switch (number(font, at, 4)) {
      case tag("head"): found.head = table; break;
      case tag("maxp"): found.maxp = table; break;
      case tag("loca"): found.loca = table; break;
      case tag("glyf"): found.glyf = table; break;
      case tag("hhea"): hhea = true; break;
      case tag("hmtx"): hmtx = true; break;
      case tag("CFF "): found.cff = table; break;
      default: break;
    }
  }
  bool const wanted = found.outlines ? !found.cff.empty() : hhea && hmtx && found.head.size() >= 52 && found.maxp.size() >= 6 && !found.loca.empty();
  return wanted ? std::optional(found) : std::nullopt;
}

bool outline_is_whole(Tables const& font, std::uint32_t glyph, int depth, bool shows) {
  if (glyph >= number(font.maxp, 4, 2)) return true;
  std::size_t const width = number(font.head, 50, 2) == 0 ? 2 : 4, unit = width == 2 ? 2 : 1, at = glyph * width;
  if (at + 2 * width > font.loca.size()) return false;
  std::size_t const from = number(font.loca, at, width) * unit, to = number(font.loca, at + width, width) * unit;
  if (from == to) return true;
  if (from > to || to > font.glyf.size()) return false;
  Bytes const outline = font.glyf.subspan(from, to - from);
  if (!shows && outline.size() > kMostOfNothing && std::ranges::all_of(outline, [](unsigned char byte) { return byte == 0; })) return false;
  if (number(outline, 0, 2) < 0x8000 || depth == 0) return true;
  // One that is made of others (glyf, "composite glyph description", from memory).
  constexpr std::uint32_t kWords = 1, kScale = 8, kMore = 0x20, kTwoScales = 0x40, kMatrix = 0x80;
  for (std::size_t part = 10; part + 4 <= outline.size();) {
    std::uint32_t const flags = number(outline, part, 2);
    if (!outline_is_whole(font, number(outline, part + 2, 2), depth - 1, true)) return false;
    if ((flags & kMore) == 0) break;
    part += 4 + ((flags & kWords) != 0 ? 4 : 2) + ((flags & kScale) != 0 ? 2 : (flags & kTwoScales) != 0 ? 4 : (flags & kMatrix) != 0 ? 8 : 0);
  }
  return true;
}

bool is_truetype(Bytes font) {
  auto const kind = number(font, 0, 4);
  return kind == 0x00010000 || kind == tag("true") || kind == kOutlines;
}

}  // namespace

bool glyph_is_whole(Bytes font, int glyph, bool shows) {
  if (glyph < 0) return true;
  if (!is_truetype(font)) return cff_glyph_is_whole(font, glyph, shows);
  auto const tables = tables_of(font);
  if (!tables) return false;
  return tables->outlines ? cff_glyph_is_whole(tables->cff, glyph, shows)
                          : outline_is_whole(*tables, static_cast<std::uint32_t>(glyph), kDeepest, shows);
}

}  // namespace layright
