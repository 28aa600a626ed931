#include "geometry/length.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>

#include "base/in_quotes.h"
#include "base/lower_case.h"

namespace layright {

namespace {

struct UnitWord {
  std::string_view word;
  Length (*of)(double);
};
// 1 cm = 10 mm. "cm" is read but never written: the trade speaks of millimetres.
constexpr std::array<UnitWord, 4> kUnitWords{{{"in", [](double v) { return Length::inches(v); }},
                                              {"mm", [](double v) { return Length::millimetres(v); }},
                                              {"pt", [](double v) { return Length::points(v); }},
                                              {"cm", [](double v) { return Length::millimetres(v * 10); }}}};

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

Error not_a_length(std::string_view text, std::string const& why) {
  return {ErrorKind::usage, in_quotes(text) + " is no length: " + why + ", such as 0.25in, 6.35mm or 18pt"};
}

int decimals_of(Unit unit) { return unit == Unit::inch ? 3 : unit == Unit::millimetre ? 2 : 1; }

}  // namespace

Result<Length> parse_length(std::string_view text) {
  auto const bare = trimmed(text);
  auto const unit_at = std::find_if(bare.begin(), bare.end(), [](char c) { return (c | 32) >= 'a' && (c | 32) <= 'z'; }) - bare.begin();
  auto const number = trimmed(bare.substr(0, static_cast<std::size_t>(unit_at)));
  auto const unit = lower_case(bare.substr(static_cast<std::size_t>(unit_at)));
  if (number.find(',') != std::string_view::npos) return not_a_length(text, "write a decimal point, not a comma, and the unit");
  auto const value = decimal_number(number);
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
