// What the checks of the art share: the notes, the scale at which the art will be printed, findings with places.
#pragma once
#include <string>

#include "check/check.h"
#include "check/common.h"
#include "marks/art.h"

namespace layright {

/// The notes of the page's marks; null where it cannot be looked at or nobody asked.
ArtNotes const* art_of(PageView const& view);

/// How much larger the art will be on the sheet than on the page: the placement's scale, 1 where there is none.
double print_scale(PageView const& view);

/// A limit of a length as printed, in the page's own points: what lies below it is smaller than the limit by more than the noise of
/// reading a page in 32-bit floats.
double limit_on_page(Length limit, PageView const& view);

/// Whether `ppi` is below (above) a limit by more than that noise.
bool clearly_below(double value, double limit);
bool clearly_above(double value, double limit);

/// "(the first 1.3 in from the left and 4.2 in from below)"; for a single place without "the first".
std::string where_text(Places const& places, Unit unit);

/// One finding for all places of a kind: its count, the first place and the others.
Finding art_finding(std::string_view id, Level level, Places const& places, std::string message);

/// "a, b and 3 more": names as a person can read them, the first few.
std::string names_text(std::vector<std::string> const& names);

/// One of the inks that a press of four toners has, or none at all (ISO 32000-1, 8.6.6.4 and 8.6.6.5).
bool is_process_ink(std::string_view name);
/// One of the names that the configuration takes for white.
bool is_white_ink(std::string_view name, Target const& target);

/// Pixels to the inch that the press prints, as its printer-resolution says (the lesser of two); kUsualPressDpi where that is no number.
double press_dpi(Press const& press);
/// What is too small to weed on this target, at the scale of the placement.
WeedWanted weed_wanted(Target const& target, PlaceResult const* placement);
/// The white plate that the target asks for, at the scale of the placement.
PlateWanted plate_wanted(Target const& target, PlaceResult const* placement);
/// The one finding of pieces that are too small, or none. `one`, `many`: "piece of ink is", `dots`: what thousands of them are; `why`: what
/// comes of it and what to do. `reports_rest`: it also tells that the page was not looked at whole.
struct SmallPieces {
  std::string_view id;
  WeedFound const& found;
  std::string one, many, dots, why;
  bool reports_rest = false;
};
std::vector<Finding> small_pieces(SmallPieces const& pieces, PageView const& view);

/// "5.3 pt" as printed; "a hairline" for 0.
std::string printed_points(double points_on_page, PageView const& view);

/// The one finding of things that are smaller than a limit as printed, or none.
/// `what`: "line is", "lines are" … with `why` as the end of the sentence.
struct SmallThings {
  std::string_view id;
  Smallest const& things;
  Length limit;
  std::string one, many;  // "line is", "lines are"
  std::string why;        // what comes of it and what to do
  std::string figure;     // "width_pt"
};
std::vector<Finding> small_things(SmallThings const& small, PageView const& view);

/// The one finding of pictures that have too many or too few pixels to the inch as printed, or none; told of the worst of them.
struct DensityLimit {
  std::string_view id;
  double ppi, bit_ppi;     // of pictures, and of those of one bit
  bool most = false;       // the limit is the most that is let pass, not the least
  std::string fault, why;  // "3 pictures have" `fault` "…, the lowest 75 to the inch where 150" `why`
};
std::vector<Finding> density_findings(DensityLimit const& limit, PageView const& view);

inline constexpr int kLeastPixels = 8;  // of a picture's side: with fewer it is a pattern, or a plain colour

}  // namespace layright
