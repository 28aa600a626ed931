#include "sheet/gang_options.h"

#include <charconv>

#include "sheet/words.h"

namespace layright {
namespace {

constexpr Words<Cuts, 3> kCuts{{{Cuts::straight, "straight"}, {Cuts::free, "free"}, {Cuts::shape, "shape"}}};
constexpr Words<PieceTurns, 3> kPieceTurns{{{PieceTurns::none, "none"}, {PieceTurns::quarter, "quarter"}, {PieceTurns::any, "any"}}};
constexpr Words<bool, 2> kOnOff{{{true, "on"}, {false, "off"}}};

}  // namespace

std::string_view word(Cuts v) { return word_of(kCuts, v); }
std::string_view word(PieceTurns v) { return word_of(kPieceTurns, v); }

Result<Cuts> parse_cuts(std::string_view text) { return value_of(kCuts, text); }
Result<PieceTurns> parse_piece_turns(std::string_view text) { return value_of(kPieceTurns, text); }
Result<bool> parse_on_off(std::string_view text) { return value_of(kOnOff, text); }

Result<double> parse_fill(std::string_view text) {
  double share = 0;
  auto const end = text.data() + text.size();
  auto const read = std::from_chars(text.data(), end, share);
  if (read.ec == std::errc() && read.ptr + 1 == end && *read.ptr == '%' && share > 0 && share <= 100) return share;
  return usage_error(in_quotes(text) + " is no share of a sheet: write for instance 85%, from above 0% to 100%");
}

Result<Length> parse_gap(std::string_view text) {
  auto const length = text == "0" ? Result<Length>(Length()) : parse_length(text);
  if (!length) return length;
  if (length->in_points() < 0) return usage_error("a gap of " + in_quotes(text) + " would lay pieces over each other: write 0in or more");
  if (*length > kMostGap) return usage_error("a gap of " + in_quotes(text) + " is more than 4 in: 0.25in is usual");
  return length;
}

}  // namespace layright
