// What several checks ask of a page, and words that they share.
#pragma once
#include <string>
#include <vector>

#include "check/check.h"
#include "place/wording.h"

namespace layright {

/// Whether there is a seen space to look into: the boxes leave a page and Rotate is a quarter turn.
bool can_be_seen(Page const& page);

/// How what is seen compares with the sheet, each side within the target's size tolerance.
enum class SheetMatch { other_size, as_fed, other_way };
SheetMatch sheet_match(SeenSize const& seen, Target const& target);

/// A scale of the placement in words: of a page that was laid before, counted from its source.
std::string scale_words(PageView const& view, double scale);

/// What `lay` would do: what the view says, else (how the page reads is not known yet) the same without a reversal, which
/// decides the size question all the same.
PlaceResult placement_for(PageView const& view, Rect<SeenSpace> const& ink);

/// Ink of a page as it was meant to lie before the page was corrected for a press; of a page that layright has not laid, as it lies.
Rect<SeenSpace> as_meant(Page const& page, Rect<SeenSpace> const& ink);

/// The live area in the seen space of a page of the sheet's size; one that lies the other way is turned as `lay` would turn it.
Rect<SeenSpace> live_area_seen(Page const& page, Target const& target, SheetMatch match);

/// "8.5 x 11 in".
std::string size_text(double width, double height, Unit unit);
/// "narrow-film (8.5 x 17 in)", as a page in feed direction; without the name where that is only its size again.
std::string sheet_text(Sheet const& sheet, Unit unit);
/// "a, b and c".
std::string joined(std::vector<std::string> const& parts);
/// "1 mark", "3 marks".
std::string counted(long count, std::string const& one, std::string const& many);

Figures size_figures(double width_pt, double height_pt);
/// The page as seen is not the sheet: of level fix, at the whole page.
Finding size_finding(std::string_view id, std::string message, PageView const& view);

}  // namespace layright
