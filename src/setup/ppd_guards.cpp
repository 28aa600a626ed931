// The two guards of a press that cost film: it stops at a size that it does not know, and it goes on from another tray when one runs out.
#include "setup/ppd_library.h"

namespace layright {
namespace {

struct PpdGuard {
  Topic topic;
  char const *check, *key;     // of the finding, and in the press's table
  char const *does, *by_hand;  // what the press does while it is on; what a person does about it
};

bool is_set(PressSetup const& setup, ppd_option_t const* option) {
  for (auto const& setting : setup.settings)
    if (setting.option == option->keyword) return true;
  return false;
}

void add_guard(Ppd::Members& ppd, PpdGuard const& guard, bool switch_off, PressSetup& setup) {
  if (setup.about(guard.topic)) return;
  for (ppd_option_t* option : ppd_options_about(ppd, guard.topic)) {
    if (is_set(setup, option)) return;
    ppd_choice_t const* off = ppd_no(option);
    if (switch_off) return ppd_add(ppd, setup, guard.topic, option->keyword, off->choice, std::string("asked for as ") + guard.key);
    if (std::string_view(option->defchoice) == off->choice) return;
    return setup.report(guard.check, Level::note,
                        std::string(option->keyword) + "=" + option->defchoice + " stays as the driver has it, so the press may " + guard.does,
                        std::string(guard.key) + " in the press's table switches it off");
  }
  if (switch_off) setup.report(guard.check, Level::note, std::string("the press's PPD has no option for ") + guard.key, guard.by_hand, guard.topic);
}

}  // namespace

void ppd_guard_settings(Ppd::Members& ppd, Target const& target, PressSetup& setup) {
  add_guard(ppd,
            {Topic::size_check, "press.size-check", "unknown-size = \"print\"", "stop at a size that it does not know",
             "set the press so that it prints a size that it does not know, or be there to let it go on"},
            target.press.print_unknown_size, setup);
  add_guard(ppd,
            {Topic::tray_switch, "press.tray-switch", "other-tray = \"never\"", "go on from another tray, on other media",
             "set the press so that it never goes on from another tray, or empty the others"},
            target.press.never_other_tray, setup);
}

}  // namespace layright
