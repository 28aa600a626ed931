#include "sheet/sizes.h"

#include <cups/cups.h>
#include <cups/pwg.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "base/in_quotes.h"

namespace layright {

namespace {

constexpr double kLongestSidePoints = 14400;  // ISO 32000-1, Annex C.2
constexpr double kUnitsAnInch = 2540;         // PWG 5101.1 counts in 1/100 mm
constexpr std::string_view kSizeForms = "a size is two lengths with their unit, such as 8.5x17in or 216x432mm, or a name such as A4";

std::string_view trimmed(std::string_view text) {
  auto const first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// A name without case, blanks and dashes: "ANSI B" and "ansi-b" are one.
std::string bare_name(std::string_view text) {
  std::string out;
  for (char const c : text)
    if (c != ' ' && c != '-') out += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return out;
}

Result<SheetSize> size_of_sides(std::string_view text, Length a, Length b) {
  if (!(a > Length() && b > Length())) return usage_error("the size " + in_quotes(text) + " must have two sides above zero");
  if (std::max(a, b).in_points() > kLongestSidePoints + 1e-6)
    return usage_error("the size " + in_quotes(text) + " is too long: a side may be at most 200in (5080mm, 14400pt)");
  return SheetSize{std::min(a, b), std::max(a, b)};
}

struct Sides {
  std::string_view first, second;
};
/// Cuts at the one x (or X, or ×) between the two sides; nothing when there is none, or more than one.
std::optional<Sides> cut_at_cross(std::string_view text) {
  constexpr std::string_view kTimes = "\xC3\x97";
  std::optional<Sides> found;
  for (std::size_t at = 0; at < text.size(); ++at) {
    bool const times = text.substr(at).starts_with(kTimes);
    if (!times && text[at] != 'x' && text[at] != 'X') continue;
    if (found) return std::nullopt;
    found = Sides{trimmed(text.substr(0, at)), trimmed(text.substr(at + (times ? kTimes.size() : 1)))};
  }
  return found;
}

bool ends_in_unit(std::string_view side) { return unit_start(side) < side.size(); }

Result<SheetSize> parse_two_lengths(std::string_view text, Sides const& sides) {
  if (!ends_in_unit(sides.second)) return usage_error(in_quotes(text) + " has no unit at its end. Say for instance 8.5x17in, 216x432mm or A4");
  auto const second = parse_length(sides.second);
  // One unit at the end is for both sides.
  std::string first_side(sides.first);
  if (!ends_in_unit(sides.first)) first_side += sides.second.substr(unit_start(sides.second));
  auto const first = parse_length(first_side);
  if (!first || !second) {
    auto const& why = first ? second.error() : first.error();
    return usage_error("the size " + in_quotes(text) + " cannot be read: " + why.message);
  }
  return size_of_sides(text, *first, *second);
}

// libcups takes any a_b_WxL, without a unit even as millimetres: so the form is checked here first (PWG 5101.1, section 5).
Result<SheetSize> parse_pwg_name(std::string_view text) {
  constexpr std::array<std::string_view, 11> kClasses{"na", "oe", "asme", "roc", "iso", "jis", "jpn", "prc", "om", "custom", "roll"};
  auto const malformed = [&](std::string const& why) {
    return usage_error(in_quotes(text) + " is no self-describing size (PWG 5101.1): " + why +
                       "; write it like na_ledger_11x17in or custom_film_8.5x17in");
  };
  auto const first = text.find('_'), last = text.rfind('_');
  if (first == last || text.substr(first + 1, last - first - 1).find('_') != std::string_view::npos)
    return malformed("it needs a class, a name and a size with two underscores between them");
  auto const kind = text.substr(0, first), name = text.substr(first + 1, last - first - 1), size = text.substr(last + 1);
  if (std::find(kClasses.begin(), kClasses.end(), kind) == kClasses.end())
    return malformed(in_quotes(kind) + " is no class of single sheets (na, oe, asme, roc, iso, jis, jpn, prc, om, custom, roll)");
  if (name.empty() || name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789.-") != std::string_view::npos)
    return malformed("its name " + in_quotes(name) + " must be of a to z, 0 to 9, point and dash");
  auto const cross = size.find('x');
  bool const unit = size.ends_with("in") || size.ends_with("mm");
  auto const numbers = unit ? size.substr(0, size.size() - 2) : size;
  if (!unit || cross == std::string_view::npos || numbers.find_first_not_of("0123456789.x") != std::string_view::npos)
    return malformed("its size " + in_quotes(size) + " must be two numbers with x between them and in or mm at the end");
  auto const sides = parse_two_lengths(text, {size.substr(0, cross), size.substr(cross + 1)});
  if (!sides) return sides.error();

  auto const* const media = pwgMediaForPWG(std::string(text).c_str());
  if (media == nullptr || media->width <= 0 || media->length <= 0) return malformed("the printing library does not know it");
  auto const differs = [](Length side, int units) { return std::abs(side.in_inches() * kUnitsAnInch - units) > 1.5; };
  if (differs(sides->width, std::min(media->width, media->length)) || differs(sides->length, std::max(media->width, media->length)))
    return malformed("the printing library reads another size in it");
  return sides;
}

}  // namespace

Result<SheetSize> parse_size(std::string_view text) {
  auto const bare = trimmed(text);
  if (bare.empty()) return usage_error("the size is empty: " + std::string(kSizeForms));
  if (bare.find('_') != std::string_view::npos) return parse_pwg_name(bare);
  bool const number_first = bare.find_first_of("0123456789.+-,") == 0;
  if (number_first) {
    if (auto const sides = cut_at_cross(bare)) return parse_two_lengths(bare, *sides);
    return usage_error(in_quotes(text) + " is no size: " + std::string(kSizeForms));
  }

  auto const wanted = bare_name(bare);
  std::vector<std::string> names;
  for (auto const& named : named_sizes()) {
    if (bare_name(named.name) == wanted) return named.size;
    names.emplace_back(named.name);
  }
  auto const nearest = nearest_name(bare, names);
  auto const hint = nearest.empty() ? std::string("; ") : "; did you mean " + in_quotes(nearest) + "? Else: ";
  return usage_error(in_quotes(text) + " is no size that is known here" + hint + std::string(kSizeForms));
}

std::string pwg_name(SheetSize size) {
  // As near as page.size asks: a sheet given as 595 x 842 pt is A4. libcups itself would take anything within 0.5 mm.
  constexpr double kSameUnits = 0.5 / 72 * kUnitsAnInch;
  auto const width = static_cast<int>(std::lround(size.width.in_inches() * kUnitsAnInch));
  auto const length = static_cast<int>(std::lround(size.length.in_inches() * kUnitsAnInch));
  auto const* const media = pwgMediaForSize(width, length);
  bool const registered = media != nullptr && media->pwg != nullptr && !std::string_view(media->pwg).starts_with("custom_");
  if (registered && std::abs(media->width - width) <= kSameUnits && std::abs(media->length - length) <= kSameUnits) return media->pwg;
  std::array<char, 128> name{};
  if (pwgFormatSizeName(name.data(), name.size(), "custom", "layright", width, length, nullptr) == 0) return {};
  return name.data();
}

}  // namespace layright
