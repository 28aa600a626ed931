#include "place/refusal.h"

#include <algorithm>
#include <optional>
#include <vector>

#include "place/wording.h"

namespace layright {
namespace {

std::string_view rectangle_name(PlaceBy by) { return by == PlaceBy::ink ? "ink" : by == PlaceBy::trim ? "trim box" : "page"; }

std::string joined(std::vector<std::string> const& parts) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) text += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
  return text;
}

/// "0.31 in too wide and 0.5 in too high", or empty where the size alone would fit.
std::string too_large(Attempt const& a, double tolerance, Unit unit) {
  std::vector<std::string> parts;
  double const w = a.scale * a.x.ink.length() - a.x.limit.length(), h = a.scale * a.y.ink.length() - a.y.limit.length();
  if (w > tolerance) parts.push_back(format_excess(w, unit) + " too wide");
  if (h > tolerance) parts.push_back(format_excess(h, unit) + " too high");
  return joined(parts);
}

/// "0.1 in beyond its left side", of the file's sheet.
std::string out_of_place(Attempt const& a, double tolerance, Unit unit) {
  std::vector<std::string> parts;
  auto const add = [&](double excess, char const* side) {
    if (excess > tolerance) parts.push_back(format_excess(excess, unit) + " beyond its " + side + " side");
  };
  char const* const left = a.mirrored ? "left (on the printed sheet: right)" : "left";
  char const* const right = a.mirrored ? "right (on the printed sheet: left)" : "right";
  add(a.x.below(a.scale), left);
  add(a.x.above(a.scale), right);
  add(a.y.below(a.scale), "bottom");
  add(a.y.above(a.scale), "top");
  return joined(parts);
}

struct ScaleToName {
  double value;
  std::string percent;
  bool down_to_nothing;  // all smaller ones fit as well
};

/// The scale to name: the nearest below what was asked for that fits, else the nearest above.
std::optional<ScaleToName> scale_that_would_do(Attempt const& a) {
  for (auto span = a.fitting.rbegin(); span != a.fitting.rend(); ++span)
    if (span->hi < a.scale) return ScaleToName{span->hi, format_scale_down(span->lo, span->hi), span->lo <= kSmallestScale};
  if (a.fitting.empty()) return std::nullopt;
  return ScaleToName{a.fitting.front().lo, format_scale_up(a.fitting.front().lo, a.fitting.front().hi), false};
}

/// Art that is only misplaced is never helped by making it tiny; our own.
constexpr double kWorthReporting = 0.1;  // of the scale that was asked for

std::string what_would_do(Attempt const& a, PlacementOptions const& options, bool misplaced, std::optional<Turn> other_turn) {
  std::vector<std::string> ways;
  if (other_turn) ways.push_back("turn it by " + std::to_string(degrees(*other_turn)) + " degrees (--turn auto)");
  if (misplaced && (options.offset_x != Length() || options.offset_y != Length())) ways.push_back("leave out --offset");
  if (misplaced && options.by != PlaceBy::ink) ways.push_back("place it by its ink (--by ink)");
  auto const scale = scale_that_would_do(a);
  if (scale && (!misplaced || scale->value >= kWorthReporting * a.scale)) {
    using Scale = PlacementOptions::Scale;
    bool const by_size = options.width || options.height, fitted = options.scale == Scale::fit || options.scale == Scale::shrink;
    bool const shrinks = !misplaced && !fitted && !by_size && scale->down_to_nothing;
    ways.push_back("lay it at " + scale->percent + " of its own size" + (scale->down_to_nothing ? " or less" : "") + " (--scale " + scale->percent +
                   (by_size   ? " in place of --width and --height"
                    : shrinks ? " or --scale shrink"
                              : "") +
                   ")");
  }
  if (ways.empty()) return "no scale fits there";
  std::string text;
  for (auto const& way : ways) text += (text.empty() ? "" : ", or ") + way;
  return text;
}

}  // namespace

PlaceRefusal refuse(Attempt const& a, Sheet const& sheet, PlacementOptions const& options, bool blank, std::optional<Turn> other_turn, Unit unit) {
  double const tolerance = kPlacementNoise;
  PlaceRefusal refusal;
  refusal.needs = {a.scale * a.x.ink.length(), a.scale * a.y.ink.length()};
  refusal.largest_scale = a.largest();

  std::string const thing = blank ? "the blank page" : "the art";
  std::string const room = (blank ? "sheet " : "live area of sheet ") + sheet.name;
  Turn const seen = turn_seen(a.turn, a.mirrored);
  std::string const turned = seen == Turn::none ? "" : " turned by " + std::to_string(degrees(seen)) + " degrees";
  auto const size = [&](double w, double h) { return format_size(Length::points(w), Length::points(h), unit); };
  std::string text = thing + " is " + size(refusal.needs.width, refusal.needs.height) + turned + " at " + format_scale(a.scale) + "; the " + room +
                     " is " + size(a.x.limit.length(), a.y.limit.length()) + ": ";
  std::string const large = too_large(a, tolerance, unit);
  if (!large.empty()) {
    text += "it is " + large;
  } else {
    text += "it would fit, but placed by its " + std::string(rectangle_name(options.by)) + " it lies " + out_of_place(a, tolerance, unit);
  }
  refusal.message = text + "; " + what_would_do(a, options, large.empty(), other_turn);
  return refusal;
}

}  // namespace layright
