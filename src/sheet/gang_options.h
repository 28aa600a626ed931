// How several pieces of art share a sheet: of an order, a target or the command line.
#pragma once
#include <chrono>
#include <string_view>

#include "base/result.h"
#include "geometry/length.h"

namespace layright {

/// straight: every cut runs through what is left of the sheet (scissors, a guillotine); free: boxes, wherever they fit; shape: by the outline of
/// the ink.
enum class Cuts { straight, free, shape };
/// none: a piece stays upright; quarter: turned by a quarter where that saves film; any: by any quarter turn, where its outline makes a difference.
enum class PieceTurns { none, quarter, any };

struct GangOptions {
  Cuts cuts = Cuts::straight;
  PieceTurns turns = PieceTurns::quarter;
  Length gap = Length::inches(0.25);  // between two pieces; common practice, no published source
  bool marks = true, labels = true;   // drawn in the gap
};

/// Whether what comes into a watched folder waits for others to share a sheet with.
struct GangWait {
  bool waits = false;
  double fill_pct = 85;                          // of the sheet, with the gaps around the pieces: then it is laid. Our own
  std::chrono::milliseconds longest{7'200'000};  // since the one that has waited longest came to wait. Our own
};

/// Words of the configuration and of the command line. Parsing gives an error (usage) that lists the words.
std::string_view word(Cuts);
std::string_view word(PieceTurns);
Result<Cuts> parse_cuts(std::string_view);
Result<PieceTurns> parse_piece_turns(std::string_view);
/// "on" or "off".
Result<bool> parse_on_off(std::string_view);
/// "85%": above 0, at most 100.
Result<double> parse_fill(std::string_view);
/// From 0 to kMostGap.
Result<Length> parse_gap(std::string_view);
inline constexpr Length kMostGap = Length::inches(4);  // our own: more is a slip of the finger

}  // namespace layright
