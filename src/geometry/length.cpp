#include "geometry/length.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <utility>

#include "base/in_quotes.h"
#include "base/lower_case.h"

namespace layright {

namespace {

struct UnitWord {
  std::string_view word;
  Length (*of)(double);
};
Length centimetres(double v) { return Length::millimetres(v * 10); }  // read but never written: the trade speaks of millimetres
// As people write them; two apostrophes, a straight, a curly and a true sign of inches among them.
constexpr std::array<UnitWord, 19> kUnitWords{{{"in", Length::inches},
                                               {"mm", Length::millimetres},
                                               {"pt", Length::points},
                                               {"cm", centimetres},
                                               {"inch", Length::inches},
                                               {"inches", Length::inches},
                                               {"in.", Length::inches},
                                               {"\"", Length::inches},
                                               {"\u201d", Length::inches},
                                               {"\u201c", Length::inches},
                                               {"\u2033", Length::inches},
                                               {"''", Length::inches},
                                               {"millimeter", Length::millimetres},
                                               {"millimeters", Length::millimetres},
                                               {"millimetre", Length::millimetres},
                                               {"millimetres", Length::millimetres},
                                               {"pts", Length::points},
                                               {"point", Length::points},
                                               {"points", Length::points}}};

constexpr std::string_view kBlanks = " \t";

std::string_view trimmed(std::string_view text) {
  auto const first = text.find_first_not_of(kBlanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kBlanks) - first + 1);
}

/// Digits with at most one point between or before them, and a sign; no exponent, no "inf", no "0x".
std::optional<double> decimal_number(std::string_view text) {
  bool const negative = text.starts_with('-');
  if (negative || text.starts_with('+')) text.remove_prefix(1);
  bool const shape = !text.empty() && text.find_first_not_of("0123456789.") == std::string_view::npos &&
                     std::count(text.begin(), text.end(), '.') <= 1 && !text.ends_with('.');
  if (!shape) return std::nullopt;
  double value = 0;
  auto const [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
  return negative ? -value : value;
}

/// Fractions that have a sign of their own.
constexpr std::array<std::pair<std::string_view, double>, 7> kFractionSigns{
    {{"\u00bd", 0.5}, {"\u00bc", 0.25}, {"\u00be", 0.75}, {"\u215b", 0.125}, {"\u215c", 0.375}, {"\u215d", 0.625}, {"\u215e", 0.875}}};

/// "1/4": whole numbers, the lower one above zero.
std::optional<double> fraction(std::string_view text) {
  for (auto const& [sign, value] : kFractionSigns)
    if (text == sign) return value;
  auto const slash = text.find('/');
  if (slash == std::string_view::npos || text.find('.') != std::string_view::npos) return std::nullopt;
  auto const upper = decimal_number(text.substr(0, slash)), lower = decimal_number(text.substr(slash + 1));
  bool const signs = text.find_first_of("+-") != std::string_view::npos;
  return !upper || !lower || signs || *lower == 0 ? std::nullopt : std::optional(*upper / *lower);
}

/// "0.25", "1/4", "1 1/4", "1-1/4", "1\u00bc", with a sign before it.
std::optional<double> number_of(std::string_view text) {
  if (auto const plain = decimal_number(text)) return plain;
  bool const negative = text.starts_with('-');
  if (negative || text.starts_with('+')) text.remove_prefix(1);
  auto const whole_end = std::min(text.find_first_not_of("0123456789"), text.size());
  std::optional<double> value = fraction(text);
  if (!value && whole_end > 0) {
    auto const rest = trimmed(text.substr(text.substr(whole_end).starts_with('-') ? whole_end + 1 : whole_end));
    auto const whole = decimal_number(text.substr(0, whole_end)), part = fraction(rest);
    if (whole && part && *part < 1) value = *whole + *part;
  }
  return value && negative ? std::optional(-*value) : value;
}

Error not_a_length(std::string_view text, std::string const& why) {
  return {ErrorKind::usage, in_quotes(text) + " is no length: " + why + ", such as 0.25in, 6.35mm or 18pt"};
}

int decimals_of(Unit unit) { return unit == Unit::inch ? 3 : unit == Unit::millimetre ? 2 : 1; }

}  // namespace

std::size_t unit_start(std::string_view text) {
  constexpr std::array<std::string_view, 5> kSigns{"\"", "''", "\u201c", "\u201d", "\u2033"};
  for (std::size_t at = 0; at < text.size(); ++at) {
    bool const letter = (text[at] | 32) >= 'a' && (text[at] | 32) <= 'z';
    if (letter || std::any_of(kSigns.begin(), kSigns.end(), [&](auto sign) { return text.substr(at).starts_with(sign); })) return at;
  }
  return text.size();
}

Result<Length> parse_length(std::string_view text) {
  auto const bare = trimmed(text);
  auto const unit_at = unit_start(bare);
  auto const number = trimmed(bare.substr(0, unit_at));
  auto const unit = lower_case(bare.substr(unit_at));
  if (number.find(',') != std::string_view::npos) return not_a_length(text, "write a decimal point, not a comma");
  auto const value = number_of(number);
  if (!value) return not_a_length(text, "expected a decimal number and its unit");
  if (unit.empty()) return not_a_length(text, "the unit is missing; write a number and in, mm, cm or pt");
  for (auto const& known : kUnitWords) {
    if (known.word != unit) continue;
    auto const length = known.of(*value);
    if (!std::isfinite(length.in_points())) break;
    return length;
  }
  return not_a_length(text, "the unit must be in, mm, cm or pt");
}

std::string format_number(double value, int decimals) {
  std::array<char, 512> buffer;  // the longest double has 309 digits before the point
  auto const [end, error] =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, std::clamp(decimals, 0, 100));
  if (error != std::errc{}) return "?";
  std::string text(buffer.data(), end);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.')) text.pop_back();
  }
  return text == "-0" ? "0" : text;
}

std::string_view unit_name(Unit unit) { return unit == Unit::inch ? "in" : unit == Unit::millimetre ? "mm" : "pt"; }

Result<Unit> parse_unit(std::string_view text) {
  for (Unit const unit : {Unit::inch, Unit::millimetre, Unit::point})
    if (unit_name(unit) == text) return unit;
  return Error{ErrorKind::usage, in_quotes(text) + " is no unit: use in, mm or pt"};
}

std::string format_length(Length length, Unit unit) { return format_number(length.in(unit), decimals_of(unit)) + " " + std::string(unit_name(unit)); }

std::string format_size(Length a, Length b, Unit unit) { return format_number(a.in(unit), decimals_of(unit)) + " x " + format_length(b, unit); }

}  // namespace layright
