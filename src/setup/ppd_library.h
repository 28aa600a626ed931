// For ppd*.cpp only: libcups' PPD functions, deprecated upstream since 1.6 and gone in its next major version.
#pragma once
#include <cups/cups.h>
#include <cups/ppd.h>

#include <cctype>
#include <map>
#include <string>
#include <string_view>

#include "setup/ppd.h"
#include "setup/ppd_lines.h"
#include "setup/ppd_words.h"

#pragma GCC diagnostic ignored "-Wdeprecated-declarations"

namespace layright {

struct Ppd::Members {
  ppd_file_t* file = nullptr;
  PpdLines lines;
  std::map<std::string, std::string> english;  // see PpdLines
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

/// ppd_kinds.cpp: the options that are about a topic, the surest first; parts that may be fitted are none.
std::vector<ppd_option_t*> ppd_options_about(Ppd::Members const& ppd, Topic topic);
/// Every name that a choice goes by, as plain words: keyword, label, and the English one of the PPD's translation tables.
std::vector<std::string> ppd_choice_names(Ppd::Members const& ppd, ppd_option_t const* option, ppd_choice_t const& choice);
/// The choice that says no, or yes, in words or in its label; null where there is none.
ppd_choice_t const* ppd_no(ppd_option_t const* option);
ppd_choice_t const* ppd_yes(ppd_option_t const* option);
/// "InputSlot (MF1 "MP tray", …)": what an option offers, for a person to choose from.
std::string ppd_choices_in_words(ppd_option_t const* option);

/// ppd_resolution.cpp: dots to the inch that a piece of the PPD's code sets (HWResolution; PJL's RESOLUTION); both 0 where it sets none.
Dots dots_in_code(std::string_view code);
struct PpdResolution {
  ppd_option_t* option;
  ppd_choice_t const* choice;
  Dots dots;   // what it truly prints at
  bool plain;  // not "equivalent", "(Speed)" or the like
};
/// All that the PPD offers, the finest first.
std::vector<PpdResolution> ppd_resolutions(Ppd::Members const& ppd);

/// ppd_guards.cpp: what stops the press at an unknown size, or makes it go on from another tray.
void ppd_guard_settings(Ppd::Members& ppd, Target const& target, PressSetup& setup);

/// ppd_size.cpp: how a sheet is asked for, e.g. {"PageSize", "Custom.612x1224"}. Error (hold) quotes the line that forces it.
Result<Setting> ppd_size_setting(Ppd::Members& ppd, Target const& target, std::vector<Finding>& findings, Unit unit);
/// After marking: what came out, its margins against the live area, and the edge that leads. Error (hold) when it is another size.
Outcome ppd_check_size(Ppd::Members& ppd, Target const& target, Setting const& size, std::optional<Rect<SheetSpace>> const& ink,
                       std::vector<Finding>& findings, Unit unit);

/// ppd_choices.cpp: everything but the size.
void ppd_choice_settings(Ppd::Members& ppd, Target const& target, PressSetup& setup);

/// ppd_marking.cpp: marks all settings and compares what came out with what was asked. A conflict with a choice that nobody asked for is gone
/// round only by switching that off (adding a setting) or, for the finest resolution, by the next finer one; what matters less gives way to what
/// matters more; anything else is a finding. Error (hold) names two choices that both matter and exclude each other.
Outcome ppd_mark(Ppd::Members& ppd, Target const& target, PressSetup& setup);

/// Adds a setting with the labels of the PPD; where its option is set already, the earlier one stays.
void ppd_add(Ppd::Members& ppd, PressSetup& setup, Topic topic, std::string const& option, std::string const& choice, std::string why);

}  // namespace layright
