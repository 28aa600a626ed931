#include "support/tiny_font.h"

#include <algorithm>
#include <cstdint>
#include <utility>
#include <vector>

namespace layright::test {
namespace {

class Writer {
 public:
  Writer& u8(unsigned v) {
    out_ += static_cast<char>(v);
    return *this;
  }
  Writer& u16(int v) { return u8(static_cast<unsigned>(v >> 8) & 255).u8(static_cast<unsigned>(v) & 255); }
  Writer& u32(std::uint32_t v) { return u16(static_cast<int>(v >> 16)).u16(static_cast<int>(v & 65535)); }
  Writer& text(std::string const& s) {
    out_ += s;
    return *this;
  }
  std::string padded() const { return out_ + std::string((4 - out_.size() % 4) % 4, '\0'); }
  std::size_t size() const { return out_.size(); }

 private:
  std::string out_;
};

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

std::string truetype_of(std::vector<Corners> const& glyphs) {
  int const last = static_cast<int>(glyphs.size());
  std::size_t most_corners = 0;
  std::string glyf;
  Writer loca, hmtx;
  loca.u16(0).u16(0);
  hmtx.u16(600).u16(0);
  for (Corners const& corners : glyphs) {
    glyf += glyph(corners);
    loca.u16(static_cast<int>(glyf.size()) / 2);
    hmtx.u16(600).u16(50);
    most_corners = std::max(most_corners, corners.size());
  }
  Writer head, hhea, maxp, cmap;
  head.u32(0x10000).u32(0x10000).u32(0).u32(0x5F0F3CF5).u16(0).u16(1000).u32(0).u32(0).u32(0).u32(0);
  head.u16(50).u16(0).u16(550).u16(700).u16(0).u16(8).u16(2).u16(0).u16(0);
  hhea.u32(0x10000).u16(800).u16(-200).u16(0).u16(600).u16(50).u16(50).u16(550).u16(1).u16(0).u16(0);
  hhea.u16(0).u16(0).u16(0).u16(0).u16(0).u16(last + 1);
  maxp.u32(0x10000)
      .u16(last + 1)
      .u16(static_cast<int>(most_corners))
      .u16(1)
      .u16(0)
      .u16(0)
      .u16(2)
      .u16(0)
      .u16(0)
      .u16(0)
      .u16(0)
      .u16(0)
      .u16(0)
      .u16(0)
      .u16(0);
  // Format 0: glyphs from byte 65 (A) on.
  cmap.u16(0).u16(1).u16(1).u16(0).u32(12).u16(0).u16(262).u16(0);
  for (int i = 0; i < 256; ++i) cmap.u8(i > 64 && i - 64 <= last ? static_cast<unsigned>(i - 64) : 0);
  std::vector<std::pair<std::string, std::string>> const tables = {{"cmap", cmap.padded()}, {"glyf", glyf},          {"head", head.padded()},
                                                                   {"hhea", hhea.padded()}, {"hmtx", hmtx.padded()}, {"loca", loca.padded()},
                                                                   {"maxp", maxp.padded()}};
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

std::string tiny_truetype() {
  return truetype_of({{{50, 0}, {50, 700}, {550, 700}, {550, 450}, {150, 450}, {150, 0}}, {{50, 0}, {300, 700}, {550, 0}}});
}

Corners letter_corners(char letter, bool reversed) {
  Corners corners;
  switch (letter) {
    case 'E':
      corners = {{70, 0},    {70, 700},  {520, 700}, {520, 590}, {190, 590}, {190, 410},
                 {440, 410}, {440, 300}, {190, 300}, {190, 110}, {520, 110}, {520, 0}};
      break;
    case 'F': corners = {{70, 0}, {70, 700}, {520, 700}, {520, 590}, {190, 590}, {190, 410}, {440, 410}, {440, 300}, {190, 300}, {190, 0}}; break;
    case 'L': corners = {{70, 0}, {70, 700}, {190, 700}, {190, 110}, {520, 110}, {520, 0}}; break;
    case 'Z': corners = {{70, 700}, {520, 700}, {520, 600}, {210, 110}, {520, 110}, {520, 0}, {60, 0}, {60, 100}, {370, 590}, {70, 590}}; break;
    default: corners = {{70, 700}, {520, 700}, {520, 610}, {270, 0}, {140, 0}, {380, 590}, {70, 590}}; break;  // 7
  }
  for (auto& [x, y] : corners)
    if (reversed) x = 590 - x;
  return corners;
}

std::string path_of(Corners const& corners) {
  std::string path;
  for (auto const& [x, y] : corners) path += std::to_string(x) + " " + std::to_string(y) + (path.empty() ? " m " : " l ");
  return path + "f ";
}

}  // namespace layright::test
