// How the film is pressed onto the goods, where the shop has said so. The film's data sheet decides.
#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "base/result.h"

namespace layright {

struct HeatPress {
  std::optional<double> seconds;
  std::optional<double> celsius;
  bool in_fahrenheit = false;  // told in Fahrenheit first, as it was written
  std::string pressure;        // light, medium, firm, or what the heat press's own scale says
  bool said() const { return seconds || celsius || !pressure.empty(); }
};

/// "15s", "15 s" or "0.5 min": one second to ten minutes. Error (usage).
Result<double> parse_press_time(std::string_view);
/// "320F" or "160C", 50 to 260 degrees Celsius: sets `celsius` and `in_fahrenheit`. Error (usage).
Outcome parse_press_temperature(std::string_view, HeatPress& into);

/// "15 s, 320 °F (160 °C), medium pressure", or empty where nothing was said.
std::string heat_press_words(HeatPress const&);

}  // namespace layright
