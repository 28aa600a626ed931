// For ppd*.cpp only: libcups' PPD functions, deprecated upstream since 1.6 and gone in its next major version.
#pragma once
#include <cups/cups.h>
#include <cups/ppd.h>

#include <cctype>
#include <string>
#include <string_view>

#include "setup/ppd.h"
#include "setup/ppd_lines.h"

#pragma GCC diagnostic ignored "-Wdeprecated-declarations"

namespace layright {

struct Ppd::Members {
  ppd_file_t* file = nullptr;
  PpdLines lines;
  ~Members() {
    if (file) ppdClose(file);
  }
};

/// Letters and digits in lower case, nothing else: "MP Tray" and "MPTray" are the same word.
inline std::string plain_word(std::string_view text) {
  std::string out;
  for (unsigned char c : text)
    if (c >= 0x80 || std::isalnum(c)) out += static_cast<char>(c < 0x80 ? std::tolower(c) : c);
  return out;
}

/// ppd_size.cpp: how a sheet is asked for, e.g. {"PageSize", "Custom.612x1224"}. Error (hold) quotes the line that forces it.
Result<Setting> ppd_size_setting(Ppd::Members& ppd, Target const& target, std::vector<Finding>& findings, Unit unit);
/// After marking: what came out, its margins against the live area, and the edge that leads. Error (hold) when it is another size.
Outcome ppd_check_size(Ppd::Members& ppd, Target const& target, Setting const& size, std::optional<Rect<SheetSpace>> const& ink,
                       std::vector<Finding>& findings, Unit unit);

/// ppd_choices.cpp: everything but the size.
void ppd_choice_settings(Ppd::Members& ppd, Target const& target, PressSetup& setup);

/// ppd_marking.cpp: marks all settings, goes round conflicts with choices that nobody asked for (adding a setting each), and compares
/// what came out with what was asked. Error (hold) names two choices that exclude each other.
Outcome ppd_mark(Ppd::Members& ppd, PressSetup& setup);

/// Adds a setting with the labels of the PPD; where its option is set already, the earlier one stays.
void ppd_add(Ppd::Members& ppd, PressSetup& setup, Topic topic, std::string const& option, std::string const& choice, std::string why);

}  // namespace layright
