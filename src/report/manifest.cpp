#include "report/manifest.h"

#include <nlohmann/json.hpp>

#include "report/page_json.h"

namespace layright {
namespace {

Json piece_json(ManifestPiece const& piece) {
  auto const& m = piece.matrix;
  auto const& box = piece.cut_box;
  return {{"path", piece.path},
          {"page", piece.page},
          {"sha256", piece.sha256},
          {"copy", piece.copy},
          {"of", piece.of},
          {"sheet", piece.sheet},
          {"matrix", {m.a, m.b, m.c, m.d, m.e, m.f}},
          {"cut_box_pt", {box.x0, box.y0, box.x1, box.y1}}};
}

}  // namespace

std::string manifest_members(Manifest const& manifest) {
  std::string text = "\"sheets\": " + std::to_string(manifest.sheets) + ", \"bound\": " + std::to_string(manifest.bound) + ", \"pieces\": [";
  bool first = true;
  for (auto const& piece : manifest.pieces) {
    text += (first ? "\n    " : ",\n    ") + json_text(piece_json(piece));
    first = false;
  }
  return text + "]";
}

std::string manifest_text(Manifest const& manifest) { return "{" + manifest_members(manifest) + "}\n"; }

std::string sheets_words(Manifest const& manifest) {
  return std::to_string(manifest.sheets) + (manifest.sheets == 1 ? " sheet" : " sheets") + "; no arrangement needs fewer than " +
         std::to_string(manifest.bound);
}

}  // namespace layright
