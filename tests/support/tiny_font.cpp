#include "support/tiny_font.h"

#include <algorithm>
#include <cstdint>
#include <utility>
#include <vector>

namespace layright::test {
namespace {

class Writer {
 public:
  Writer& u8(unsigned v) { out_ += static_cast<char>(v); return *this; }
  Writer& u16(int v) { return u8(static_cast<unsigned>(v >> 8) & 255).u8(static_cast<unsigned>(v) & 255); }
  Writer& u32(std::uint32_t v) { return u16(static_cast<int>(v >> 16)).u16(static_cast<int>(v & 65535)); }
  Writer& text(std::string const& s) { out_ += s; return *this; }
  std::string padded() const { return out_ + std::string((4 - out_.size() % 4) % 4, '\0'); }
  std::size_t size() const { return out_.size(); }

 private:
  std::string out_;
};

using Corners = std::vector<std::pair<int, int>>;

/// One closed contour of straight lines.
std::string glyph(Corners const& corners) {
  int x0 = 32767, y0 = 32767, x1 = -32768, y1 = -32768, last = 0;
  for (auto const& [x, y] : corners) x0 = std::min(x0, x), y0 = std::min(y0, y), x1 = std::max(x1, x), y1 = std::max(y1, y);
  Writer w;
  w.u16(1).u16(x0).u16(y0).u16(x1).u16(y1).u16(static_cast<int>(corners.size()) - 1).u16(0);
  for (std::size_t i = 0; i < corners.size(); ++i) w.u8(1);  // on the curve, both deltas as words
  for (auto const& [x, y] : corners) w.u16(x - std::exchange(last, x));
  last = 0;
  for (auto const& [x, y] : corners) w.u16(y - std::exchange(last, y));
  return w.padded();
}

std::uint32_t sum_of(std::string const& table) {
  std::uint32_t sum = 0;
  for (std::size_t i = 0; i < table.size(); ++i) sum += static_cast<std::uint32_t>(static_cast<unsigned char>(table[i])) << (24 - 8 * (i % 4));
  return sum;
}

}  // namespace

std::string tiny_truetype() {
  auto const flag = glyph({{50, 0}, {50, 700}, {550, 700}, {550, 450}, {150, 450}, {150, 0}});
  auto const triangle = glyph({{50, 0}, {300, 700}, {550, 0}});
  int const flag_end = static_cast<int>(flag.size()), end = static_cast<int>(flag.size() + triangle.size());
  Writer head, hhea, maxp, hmtx, loca, cmap;
  head.u32(0x10000).u32(0x10000).u32(0).u32(0x5F0F3CF5).u16(0).u16(1000).u32(0).u32(0).u32(0).u32(0);
  head.u16(50).u16(0).u16(550).u16(700).u16(0).u16(8).u16(2).u16(0).u16(0);
  hhea.u32(0x10000).u16(800).u16(-200).u16(0).u16(600).u16(50).u16(50).u16(550).u16(1).u16(0).u16(0);
  hhea.u16(0).u16(0).u16(0).u16(0).u16(0).u16(3);
  maxp.u32(0x10000).u16(3).u16(6).u16(1).u16(0).u16(0).u16(2).u16(0).u16(0).u16(0).u16(0).u16(0).u16(0).u16(0).u16(0);
  hmtx.u16(600).u16(0).u16(600).u16(50).u16(600).u16(50);
  loca.u16(0).u16(0).u16(flag_end / 2).u16(end / 2);
  // Format 0: byte 65 (A) is the flag, byte 66 (B) the triangle.
  cmap.u16(0).u16(1).u16(1).u16(0).u32(12).u16(0).u16(262).u16(0);
  for (int i = 0; i < 256; ++i) cmap.u8(i == 65 ? 1 : i == 66 ? 2 : 0);
  std::vector<std::pair<std::string, std::string>> const tables = {
      {"cmap", cmap.padded()}, {"glyf", flag + triangle}, {"head", head.padded()}, {"hhea", hhea.padded()},
      {"hmtx", hmtx.padded()}, {"loca", loca.padded()},   {"maxp", maxp.padded()}};
  Writer out;
  int const count = static_cast<int>(tables.size());
  out.u32(0x10000).u16(count).u16(64).u16(2).u16(count * 16 - 64);
  auto offset = static_cast<std::uint32_t>(12 + 16 * count);
  for (auto const& [tag, table] : tables) {
    auto const size = static_cast<std::uint32_t>(table.size());
    out.text(tag).u32(sum_of(table)).u32(offset).u32(size);
    offset += size;
  }
  for (auto const& [tag, table] : tables) out.text(table);
  return out.padded();
}

}  // namespace layright::test
