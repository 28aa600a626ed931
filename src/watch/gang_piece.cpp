#include "watch/gang_piece.h"

#include <nlohmann/json.hpp>

#include "report/page_json.h"
#include "report/report.h"

namespace layright {

std::string gang_text(WaitingPiece const& piece) {
  Json boxes = Json::array();
  for (auto const& box : piece.boxes) boxes.push_back({box.width, box.height, box.page});
  return json_text({{"boxes", boxes},
                    {"count", piece.count},
                    {"press", piece.press},
                    {"said", decision_text(piece.said)},
                    {"now", piece.now},
                    {"since", piece.since}});
}

Result<WaitingPiece> parse_waiting_piece(std::string const& text) {
  Error const wrong{ErrorKind::data, "what the ledger keeps of a piece that waits cannot be read: " + text};
  auto const json = Json::parse(text, nullptr, false);
  if (!json.is_object() || !json.contains("boxes") || !json["boxes"].is_array()) return wrong;
  WaitingPiece piece;
  for (auto const& box : json["boxes"]) {
    if (!box.is_array() || box.size() != 3 || !box[0].is_number() || !box[1].is_number() || !box[2].is_number_integer()) return wrong;
    piece.boxes.push_back({box[0].get<double>(), box[1].get<double>(), box[2].get<int>()});
  }
  auto said = parse_decision(json.value("said", ""));
  if (!said) return said.error();
  piece.said = std::move(*said);
  piece.count = json.value("count", 1);
  piece.press = json.value("press", "");
  piece.now = json.value("now", false);
  piece.since = json.value("since", 0LL);
  return piece;
}

Result<OrderedPiece> ordered_piece(LedgerEntry const& entry) {
  auto const waiting = parse_waiting_piece(entry.gang);
  if (!waiting) return waiting.error();
  OrderedPiece piece;
  piece.file = entry.place;
  piece.count = waiting->count;
  piece.label = std::to_string(entry.id);
  auto const& said = waiting->said;
  if (!said.incoming.empty()) piece.incoming = said.incoming == "wrong" ? Reading::wrong : Reading::right;
  piece.scale = said.scale;
  if (!said.width.empty()) {
    auto const width = parse_length(said.width);
    if (!width) return width.error();
    piece.width = *width;
  }
  piece.accept = said.accept;
  return piece;
}

std::string piece_words(LedgerEntry const& entry) { return shown_name(entry.name) + " (job " + std::to_string(entry.id) + ")"; }

}  // namespace layright
