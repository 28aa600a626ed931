// The plate of white toner that dark goods need beneath the colors: which parts of the art get it, and how it is made.
#pragma once
#include <string>
#include <string_view>

#include "base/result.h"
#include "geometry/length.h"

namespace layright {

/// Where white is laid. The art's own white marks are part of each but `off`.
enum class PlateFrom {
  off,
  all,    // under all ink
  light,  // under colors at least as light as `light_pct`
  solid,  // under ink that nothing shines through
  own,    // the art's own white marks alone
};
/// What becomes of lines too fine for the pull-in: they keep a core, pulled in by a half or a quarter; or get no white.
enum class ThinLines { keep, bare };
/// Where the plate lies: in the page, as a spot color of it; on a page of its own beside the art's; in a file of its own, for a press that lays
/// white in a pass of its own.
enum class PlateAs { spot, page, file };
/// What becomes of soft edges: white from half of full strength on, or as much white as there is ink.
enum class SoftEdges { half, grey };

struct PlateOptions {
  PlateFrom from = PlateFrom::off;
  Length pull_in = Length::points(0.5);  // about twice a press's registration; common practice, no published source
  ThinLines thin = ThinLines::keep;
  SoftEdges fade = SoftEdges::half;
  bool none_under_black = false;
  PlateAs as = PlateAs::spot;
  bool first = false;           // as a page: before the art's, not after it
  bool register_marks = false;  // crosses at the same places of the art and of a plate that lies apart
  double light_pct = 50;        // lightness, L* of CIE 1976 (ISO/CIE 11664-4)
};
/// The widest pull-in that can be meant. Our own: it is the usual margin.
inline constexpr Length kMostPullIn = Length::inches(0.25);

/// Words of the configuration and of the command line. Parsing gives an error (usage) that lists the words.
std::string_view word(PlateFrom);
std::string_view word(ThinLines);
std::string_view word(SoftEdges);
std::string_view word(PlateAs);
Result<PlateFrom> parse_plate(std::string_view);
Result<ThinLines> parse_thin(std::string_view);
Result<SoftEdges> parse_fade(std::string_view);
Result<PlateAs> parse_plate_as(std::string_view);
/// A length from 0 to kMostPullIn.
Result<Length> parse_pull_in(std::string_view);

/// All that a plate depends on but the press's resolution, in one line: "all 0.5pt keep half".
std::string settings_text(PlateOptions const&);

}  // namespace layright
