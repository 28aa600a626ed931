// The names of sizes: any two lengths, PWG 5101.1 self-describing names, ISO 216 and ISO 217, ANSI/ASME Y14.1.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "geometry/length.h"

namespace layright {

/// Two sides of a sheet, the shorter first.
struct SheetSize {
  Length width, length;
};

/// "8.5x17in", "17 x 8.5 in", "216x432mm", "8.5inx17in", "612x1224pt" (either side first, blanks allowed, x or ×), a PWG 5101.1
/// name
/// ("na_ledger_11x17in", "custom_film_8.5x17in"; by libcups), or an ISO/ANSI name without regard to case ("A4", "SRA3", "ANSI B",
/// "tabloid", "letter"). Error (usage) names what was expected and the nearest known name. Sides are > 0 and at most 14,400 pt
/// (ISO 32000-1, Annex C.2).
Result<SheetSize> parse_size(std::string_view text);

struct NamedSize {
  std::string_view name;
  SheetSize size;
  std::string_view source;  // the standard that gives it
};
/// All names that parse_size knows beside the self-describing ones.
std::vector<NamedSize> const& named_sizes();

/// The PWG 5101.1 self-describing name of a size ("na_letter_8.5x11in", else "custom_layright_8.5x17in"), by libcups.
std::string pwg_name(SheetSize size);

/// The candidate nearest to `word` by edit distance, or empty when none is near enough to be meant.
std::string nearest_name(std::string_view word, std::vector<std::string> const& candidates);

}  // namespace layright
