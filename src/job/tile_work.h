// Parts one page over several sheets: what is done of it in the child that lays a file.
#pragma once
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "job/inspect.h"
#include "job/messages.h"
#include "report/report.h"
#include "write/write_laid.h"

namespace layright {

/// What a person asks for beside what `lay` is asked.
struct Tiling {
  Length overlap;      // of neighbors: both print it
  bool marks = true;   // where to cut, outside the art
  bool labels = true;  // which part it is
};

/// The options by which a page that is to be parted is looked at: all that holds `lay` holds, but for the size of the sheet.
InspectOptions without_sheet(InspectOptions const& options);

/// Of all pages of a file, in the order written.
Manifest tile_manifest(FileHead const& head, std::vector<PageTiles> const& pages);

struct TiledPage {
  PageTiles tiles;
  std::vector<LaidPage> pages;       // in the order in which they are pressed
  std::vector<Verification> proofs;  // without the offset on the tape
};
/// `page` was looked at by without_sheet(options), and nothing held it. Gives a sentence where it cannot be parted so.
std::variant<TiledPage, std::string> tile_page(InspectedPage const& page, MarksReader& reader, InspectOptions const& options, Tiling const& tiling);

}  // namespace layright
