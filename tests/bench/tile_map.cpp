// What it costs to find where art is cut: the map of the first page and all cuts, in processor seconds.
//   tile_map FILE
#include <cstdio>
#include <ctime>
#include <fstream>
#include <iterator>
#include <string>

#include "document/document.h"
#include "marks/reader.h"
#include "tile/tile_plan.h"

using namespace layright;

int main(int count, char** words) {
  if (count != 2) return std::fputs("usage: tile_map FILE\n", stderr), 64;
  std::ifstream in(words[1], std::ios::binary);
  std::string const text{std::istreambuf_iterator<char>(in), {}};
  auto const bytes = std::as_bytes(std::span(text));
  auto opened = Document::open(bytes, words[1], {});
  auto* const document = std::get_if<std::unique_ptr<Document>>(&opened);
  auto reader = MarksReader::open(bytes, {});
  if (!document || !reader) return std::fputs("tile_map: it cannot be read\n", stderr), 1;
  Page const page = (*document)->page(1);
  auto const art = page.seen.rect();
  std::clock_t const begun = std::clock();
  auto const map_at = [&](Rect<SeenSpace> const& part, double dpi) -> std::optional<CutMap> {
    auto const picture = (*reader)->picture(page, part, dpi, true);
    if (!picture) return std::nullopt;
    return cut_map(*picture, part, {}, static_cast<int>(part.width() * dpi / 72), static_cast<int>(part.height() * dpi / 72), false);
  };
  auto const map = map_at(art, kCutMapDpi);
  if (!map) return std::fputs("tile_map: it cannot be drawn\n", stderr), 1;
  auto const plan = plan_tiles(art, *map, {576, 1188, 0, 14}, [&](Rect<SeenSpace> const& part) { return map_at(part, kFinerCutMapDpi); });
  std::printf("%.6f s for %zu parts\n", static_cast<double>(std::clock() - begun) / CLOCKS_PER_SEC, plan.tiles.size());
}
