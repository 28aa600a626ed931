#include "sheet/plate.h"

#include "sheet/target.h"
#include "sheet/words.h"

namespace layright {
namespace {

constexpr Words<PlateFrom, 5> kPlates{
    {{PlateFrom::off, "off"}, {PlateFrom::all, "all"}, {PlateFrom::light, "light"}, {PlateFrom::solid, "solid"}, {PlateFrom::own, "own"}}};
constexpr Words<ThinLines, 2> kThins{{{ThinLines::keep, "keep"}, {ThinLines::bare, "bare"}}};
constexpr Words<SoftEdges, 2> kFades{{{SoftEdges::half, "half"}, {SoftEdges::grey, "grey"}}};

constexpr Words<PlateAs, 3> kAs{{{PlateAs::spot, "spot"}, {PlateAs::page, "page"}, {PlateAs::file, "file"}}};

}  // namespace

std::string_view word(PlateFrom v) { return word_of(kPlates, v); }
std::string_view word(ThinLines v) { return word_of(kThins, v); }
std::string_view word(SoftEdges v) { return word_of(kFades, v); }
std::string_view word(PlateAs v) { return word_of(kAs, v); }

Result<PlateFrom> parse_plate(std::string_view text) { return value_of(kPlates, text); }
Result<ThinLines> parse_thin(std::string_view text) { return value_of(kThins, text); }
Result<SoftEdges> parse_fade(std::string_view text) { return value_of(kFades, text == "gray" ? "grey" : text); }
Result<PlateAs> parse_plate_as(std::string_view text) { return value_of(kAs, text); }

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
  if (o.as != PlateAs::spot) text += " as " + std::string(word(o.as)) + (o.as == PlateAs::page && o.first ? " first" : "");
  if (o.register_marks) text += " register-marks";
  return text;
}

Outcome check_plate_suits(PlateOptions const& plate, Press const& press) {
  if (plate.from == PlateFrom::off) return done();
  if (!press.prints_white) {
    auto const name = press.name.empty() ? std::string("the press") : "the press " + in_quotes(press.name);
    return usage_error(name + " lays no white, so it has no use for a white plate: say prints-white = true in its table, or plate = \"off\"");
  }
  if (plate.register_marks && plate.as == PlateAs::spot)
    return usage_error("register-marks are for a plate that lies apart from its art: say plate-as = \"page\" or \"file\"");
  return done();
}

}  // namespace layright
