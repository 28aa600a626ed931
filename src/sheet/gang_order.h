// An order: which pieces, how many of each, how large. Read once and checked whole.
#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "sheet/gang_options.h"
#include "sheet/reading.h"
#include "sheet/target.h"

namespace layright {

/// What somebody said of it; the rest stays as it is.
struct GangChoices {
  std::optional<Cuts> cuts;
  std::optional<PieceTurns> turns;
  std::optional<Length> gap;
  std::optional<bool> marks, labels;
};
GangOptions with_choices(GangOptions options, GangChoices const& choices);

struct OrderedPiece {
  std::filesystem::path file;
  std::string pages;                    // "1-3,7"; empty: all
  int count = 1;                        // of each page
  std::optional<Length> width, height;  // on the goods
  std::string label;                    // empty: its number in the order
  std::optional<PieceTurns> turns;      // else as the order says
  std::optional<Reading> incoming;      // right or wrong: a person's word
  std::string scale;                    // as for `lay`; empty: as it is
  std::vector<std::string> accept;      // checks whose hold is none
  bool operator==(OrderedPiece const&) const = default;
};
inline constexpr int kMostCopies = 9999;

struct GangOrder {
  std::string order;   // its number or name, for labels; may be empty
  std::string target;  // empty: not said
  std::filesystem::path manifest;
  GangChoices choices;
  std::optional<White> white;  // where the press lays white; else as the target says
  std::vector<OrderedPiece> pieces;
};

/// Files count from the order's own folder. Error (usage) names file, line, column, what was expected and the nearest known key; no_input when
/// it cannot be read.
Result<GangOrder> load_gang_order(std::filesystem::path const& path);
Result<GangOrder> parse_gang_order(std::string_view text, std::filesystem::path const& path);

/// As load_gang_order takes it. What is no UTF-8, or a control character, is U+FFFD in it.
std::string gang_order_text(GangOrder const& order);

/// "crest.pdf:6", "fox.pdf:2@4in", "fox.pdf@4in", "fox.pdf". A file whose name is the whole word is meant, whatever its name ends in.
Result<OrderedPiece> parse_ordered_piece(std::string const& word);

}  // namespace layright
