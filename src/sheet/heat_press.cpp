#include "sheet/heat_press.h"

#include <charconv>
#include <cmath>
#include <system_error>

#include "base/in_quotes.h"
#include "geometry/length.h"

namespace layright {
namespace {

// What no heat press is set to is a slip of the finger. Our own.
constexpr double kShortest = 1, kLongest = 600, kColdest = 50, kHottest = 260;

struct NumberAndUnit {
  double number;
  std::string_view unit;
};

std::optional<NumberAndUnit> parts_of(std::string_view text) {
  auto const end = text.find_first_not_of("0123456789.");
  if (end == std::string_view::npos) return std::nullopt;
  double number = 0;
  if (auto const read = std::from_chars(text.data(), text.data() + end, number); read.ec != std::errc() || read.ptr != text.data() + end)
    return std::nullopt;
  auto unit = text.substr(end);
  while (!unit.empty() && unit.front() == ' ') unit.remove_prefix(1);
  if (unit.starts_with("\u00B0")) unit.remove_prefix(2);
  return NumberAndUnit{number, unit};
}

}  // namespace

Result<double> parse_press_time(std::string_view text) {
  auto const parts = parts_of(text);
  bool const minutes = parts && parts->unit == "min";
  double const seconds = parts ? parts->number * (minutes ? 60 : 1) : 0;
  if (parts && (minutes || parts->unit == "s") && seconds >= kShortest && seconds <= kLongest) return seconds;
  return usage_error(in_quotes(std::string(text)) + " is no time for a heat press: write 1s to 600s, or minutes, such as 15s or 0.5min");
}

Outcome parse_press_temperature(std::string_view text, HeatPress& into) {
  auto const parts = parts_of(text);
  bool const fahrenheit = parts && parts->unit == "F";
  double const celsius = parts ? fahrenheit ? (parts->number - 32) / 1.8 : parts->number : 0;
  if (!parts || !(fahrenheit || parts->unit == "C") || celsius < kColdest || celsius > kHottest)
    return usage_error(in_quotes(std::string(text)) + " is no temperature of a heat press: write degrees and F or C, such as 320F or 160C");
  into.celsius = celsius;
  into.in_fahrenheit = fahrenheit;
  return done();
}

std::string heat_press_words(HeatPress const& heat) {
  std::string text;
  auto const add = [&](std::string const& part) { text += (text.empty() ? "" : ", ") + part; };
  if (heat.seconds) add(format_number(*heat.seconds, 1) + " s");
  if (heat.celsius) {
    std::string const c = format_number(std::round(*heat.celsius), 0) + " °C", f = format_number(std::round(*heat.celsius * 1.8 + 32), 0) + " °F";
    add(heat.in_fahrenheit ? f + " (" + c + ")" : c + " (" + f + ")");
  }
  if (!heat.pressure.empty()) add(heat.pressure + (heat.pressure.find("pressure") == std::string::npos ? " pressure" : ""));
  return text;
}

}  // namespace layright
