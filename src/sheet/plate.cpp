#include "sheet/plate.h"

#include "sheet/words.h"

namespace layright {
namespace {

constexpr Words<PlateFrom, 5> kPlates{
    {{PlateFrom::off, "off"}, {PlateFrom::all, "all"}, {PlateFrom::light, "light"}, {PlateFrom::solid, "solid"}, {PlateFrom::own, "own"}}};
constexpr Words<ThinLines, 2> kThins{{{ThinLines::keep, "keep"}, {ThinLines::bare, "bare"}}};
constexpr Words<SoftEdges, 2> kFades{{{SoftEdges::half, "half"}, {SoftEdges::grey, "grey"}}};

}  // namespace

std::string_view word(PlateFrom v) { return word_of(kPlates, v); }
std::string_view word(ThinLines v) { return word_of(kThins, v); }
std::string_view word(SoftEdges v) { return word_of(kFades, v); }

Result<PlateFrom> parse_plate(std::string_view text) { return value_of(kPlates, text); }
Result<ThinLines> parse_thin(std::string_view text) { return value_of(kThins, text); }
Result<SoftEdges> parse_fade(std::string_view text) { return value_of(kFades, text == "gray" ? "grey" : text); }

Result<Length> parse_pull_in(std::string_view text) {
  auto const length = parse_length(text);
  if (!length) return length;
  if (length->in_points() < 0) return usage_error("a pull-in of " + in_quotes(text) + " would reach past the art: write 0pt or more");
  if (length->in_points() > kMostPullIn.in_points())
    return usage_error("a pull-in of " + in_quotes(text) + " is more than a quarter inch: 0.25pt to 1pt is usual");
  return length;
}

std::string settings_text(PlateOptions const& o) {
  std::string text =
      std::string(word(o.from)) + " " + format_number(o.pull_in.in_points(), 4) + "pt " + std::string(word(o.thin)) + " " + std::string(word(o.fade));
  if (o.from == PlateFrom::light) text += " from " + format_number(o.light_pct, 2) + "%";
  if (o.none_under_black) text += " none-under-black";
  return text;
}

}  // namespace layright
