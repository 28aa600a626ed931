#include "job/tile_work.h"

#include <algorithm>
#include <cmath>

#include "job/tile_marks.h"
#include "place/correction.h"
#include "tile/tile_room.h"

namespace layright {
namespace {

constexpr double kLargeSheet = 1e6;  // points: larger than any art
constexpr int kMostMapSide = 16000;  // pixels; a hundred sheets end to end are 61,200 points

TileRoom room_for(Target const& target, double scale, Tiling const& tiling) {
  return tile_room(target, scale, tiling.overlap, Length::points(tiling.marks || tiling.labels ? kTileRim : 0));
}

std::string points_text(double points, Unit unit) { return format_length(Length::points(points), unit); }

/// Why it cannot be parted; empty where it can.
std::string objection(SeenSize size, double scale, InspectOptions const& options, Tiling const& tiling) {
  auto const room = room_for(options.target, 1, tiling);
  double const narrow = std::min(room.width, room.height);
  if (narrow < 2 * room.overlap)
    return "the overlap of " + points_text(room.overlap, options.unit) + " is more than half of the live area's " +
           points_text(narrow, options.unit) + "; give a smaller --overlap, at most " + points_text(std::floor(narrow / 2), options.unit);
  int const sheets = fewest_tiles(size.width * scale, size.height * scale, room);
  if (sheets < 1 || sheets > kMostTiles)
    return "at " + format_size(Length::points(size.width * scale), Length::points(size.height * scale), options.unit) + " it takes " +
           (sheets > 0 ? std::to_string(sheets) : "too many") + " sheets, and at most " + std::to_string(kMostTiles) +
           " are taken; make it smaller (--width), or take a larger sheet";
  return {};
}

/// Nothing where the page cannot be drawn.
std::optional<CutMap> map_of(Page const& page, Rect<SeenSpace> const& art, Matrix<SeenSpace, SeenSpace> const& to_drawn, double scale,
                             MarksReader& reader, bool white_prints, double map_dpi) {
  auto const pixels = [&](double length) { return std::clamp(static_cast<int>(std::ceil(length * scale * map_dpi / 72)), 2, kMostMapSide); };
  int const width = pixels(art.width()), height = pixels(art.height());
  auto const drawn = to_drawn.apply(art);
  double const dpi = std::max(width, height) / std::max({drawn.width(), drawn.height(), 1e-3}) * 72;
  auto const picture = reader.picture(page, drawn, dpi, true);
  if (!picture) return std::nullopt;
  return cut_map(*picture, art, to_drawn, width, height, white_prints);
}

CutMap nothing_to_cut() {
  std::vector<std::uint8_t> const none(4, 0);
  return {2, 2, none, none, none};
}

LayRecord record_of_tile(LayRecord record, Placement const& placement, Tile const& tile, Target const& target) {
  record.sheet = target.sheet.page();
  record.placement = placement.matrix;
  record.correction = placement.correction;
  record.scale = placement.scale;
  record.turn = placement.turn;
  record.reversed = placement.reversed;
  record.reversed_later = placement.reversed_later;
  record.ink_known = true;
  record.source_ink = tile.area;
  record.white_prints = target.white_prints();
  record.other_ink_known = false;
  record.other_ink.reset();
  record.source_trim = tile.area;
  return record;
}

/// Only of what is really parted. `tile` is the one that was placed last.
TileMarksWanted marks_of(Tile const& tile, PageTiles const& tiles, Tiling const& tiling) {
  auto const of = tiles.plan.tiles.size();
  if (of < 2) return {false, {}};
  auto const position = tile_position(tile, tiles.plan.columns);
  std::string const label = std::to_string(tiles.placed.size()) + " of " + std::to_string(of) + (position.empty() ? "" : ", " + position);
  return {tiling.marks, tiling.labels ? label : std::string()};
}

}  // namespace

InspectOptions without_sheet(InspectOptions const& options) {
  InspectOptions out = options;
  Sheet& sheet = out.target.sheet;
  sheet.width = sheet.length = Length::points(kLargeSheet);
  sheet.margins = Margins::all(Length());
  out.target.press.correct = false;
  auto& placement = out.target.placement;
  placement.by = PlaceBy::ink;
  placement.at = Anchor::centre;
  placement.offset_x = placement.offset_y = Length();
  placement.allow_outside = false;
  placement.turn = Turn::none;
  if (placement.scale == PlacementOptions::Scale::fit || placement.scale == PlacementOptions::Scale::shrink)
    placement.scale = PlacementOptions::Scale::keep;
  for (char const* of_sheet : {"page.size", "page.feed", "page.correction", "ink.margin", "ink.size", "ink.edge"})
    out.selection.skip.insert(of_sheet);
  return out;
}

Manifest tile_manifest(FileHead const& head, std::vector<PageTiles> const& pages) {
  Manifest manifest;
  for (auto const& page : pages) {
    int const of = static_cast<int>(page.plan.tiles.size());
    auto const to_source = page.to_seen.inverted().value_or(Matrix<SeenSpace, SeenSpace>{});
    manifest.bound += page.plan.bound;
    for (int i = 0; i < of; ++i) {
      auto const& placed = page.placed[static_cast<std::size_t>(i)].matrix;
      auto const cut_box = placed.apply(page.plan.tiles[static_cast<std::size_t>(i)].area);
      manifest.pieces.push_back({head.path, page.page, head.sha256, i + 1, of, ++manifest.sheets, then(to_source, placed), cut_box});
    }
  }
  return manifest;
}

std::variant<TiledPage, std::string> tile_page(InspectedPage const& page, MarksReader& reader, InspectOptions const& options, Tiling const& tiling) {
  auto const& seen = page.report.page;
  auto const& record = *page.plan.record;
  auto const& target = options.target;
  auto const art = record.source_ink.value_or(record.source_seen.rect());
  if (auto why = objection({art.width(), art.height()}, record.scale, options, tiling); !why.empty()) return why;
  auto room = room_for(target, record.scale, tiling);
  room.mirrored = record.reading == Reading::wrong;  // goods read as they are meant to be read
  TiledPage out;
  auto& tiles = out.tiles;
  tiles.page = seen.number;
  tiles.scale = record.scale;
  bool const laid_before = seen.record && seen.record->holds;
  if (laid_before) {
    auto const& m = seen.record->placement;
    tiles.to_seen = {m.a, m.b, m.c, m.d, m.e, m.f};
  }
  auto const from_seen = tiles.to_seen.inverted();
  if (!from_seen) return "the record in the page holds a placement that cannot be undone";
  if (fewest_tiles(art.width(), art.height(), room) == 1) {
    tiles.plan = plan_tiles(art, nothing_to_cut(), room);
  } else {
    auto const map_at = [&](Rect<SeenSpace> const& part, double dpi) {
      return map_of(seen, part, tiles.to_seen, record.scale, reader, target.white_prints(), dpi);
    };
    auto const map = map_at(art, kCutMapDpi);
    if (!map) return "it cannot be drawn, so nobody knows where it may be cut";
    tiles.plan = plan_tiles(art, *map, room, [&](Rect<SeenSpace> const& part) { return map_at(part, kFinerCutMapDpi); });
  }

  PlacementOptions lies;
  lies.scale = PlacementOptions::Scale::percent;
  lies.percent = record.scale * 100;
  lies.turn = target.placement.turn.value_or(tiles.plan.turned ? Turn::quarter : Turn::none);
  auto const live = live_area_of_file(target);
  for (auto const& tile : tiles.plan.tiles) {
    auto const placed = place_for(target, lies, {tile.area, tile.area, tile.area}, record.reversed, options.unit);
    if (auto const* none = std::get_if<PlaceRefusal>(&placed)) return none->message;
    auto const& placement = std::get<Placement>(placed);
    tiles.placed.push_back(placement);
    auto const marks = tile_marks(tile, art, placement, live, marks_of(tile, tiles, tiling));
    out.pages.push_back({seen, placement.matrix, record_of_tile(record, placement, tile, target), mark_operators(marks), tile.area});
    Verification proof{placement.matrix, 0, 0, {}, tile.area};
    if (!marks.empty()) proof.beside = live;
    if (laid_before) {  // its marks are those of the laid page
      proof.placement = then(*from_seen, placement.matrix);
      proof.cut = tiles.to_seen.apply(tile.area);
    }
    out.proofs.push_back(proof);
  }
  return out;
}

}  // namespace layright
