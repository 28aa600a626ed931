#include "setup/job_ticks.h"

#include <algorithm>
#include <initializer_list>

#include "geometry/length.h"

namespace layright {
namespace {

/// A keyword as words: "by-pass-tray".
std::string keyword_words(std::string keyword) {
  std::ranges::replace(keyword, '-', ' ');
  return keyword;
}

std::string setting_words(Setting const& s) {
  std::string const choice = s.choice_label.empty() || s.choice_label == s.choice ? s.choice : s.choice + " (\"" + s.choice_label + "\")";
  return s.option + " = " + choice;
}

/// All settings of one dialog in one line, then what must be set by hand.
std::string dialog_words(PressSetup const& setup, std::initializer_list<Topic> topics) {
  auto const in = [&](Topic topic) { return std::ranges::find(topics, topic) != topics.end(); };
  std::string text;
  for (auto const& setting : setup.settings)
    if (in(setting.topic)) text += (text.empty() ? "" : "; ") + setting_words(setting);
  if (!text.empty()) text += ".";
  for (auto const& hand : setup.by_hand)
    if (in(hand.topic)) text += (text.empty() ? "By hand: " : " By hand: ") + hand.text + ".";
  return text;
}

bool printer_mirrors(Target const& target) { return target.reading != WantedReading::as_is && target.reverse_at == ReverseAt::printer; }

std::string tray_name(Target const& target, PressSetup const& setup) {
  if (Setting const* tray = setup.about(Topic::tray)) return tray->choice_label.empty() ? tray->choice : tray->choice_label;
  return target.press.media_source.empty() ? "Single-sheet tray" : keyword_words(target.press.media_source);
}

std::string exit_words(Target const& target, PressSetup const& setup) {
  if (Setting const* exit = setup.about(Topic::exit))
    return "Open the exit \"" + (exit->choice_label.empty() ? exit->choice : exit->choice_label) + "\".";
  return target.press.output_bin == "face-up" ? "Open the straight face-up exit." : "Use the straightest exit.";
}

std::string white_tick(Target const& target, PressSetup const& setup) {
  std::string text = dialog_words(setup, {Topic::white});
  if (target.plate.from != PlateFrom::off)
    return "White is in the file, as the color " + target.press.white_ink + ". Driver's own white OFF. " + text;
  auto const words = white_words(target.white);
  return words.empty() ? text : text.empty() ? words : words + " " + text;
}

std::string mirror_tick(Target const& target, PressSetup const& setup) {
  std::string text = printer_mirrors(target) ? "ON at the press: it does the one mirroring. " : "OFF at the press. ";
  if (target.reading != WantedReading::as_is && target.reverse_at == ReverseAt::rip) text += "The RIP mirrors. ";
  if (target.reading != WantedReading::as_is && target.reverse_at == ReverseAt::file) text += "The file is mirrored as it must be. ";
  return text + dialog_words(setup, {Topic::mirror});
}

}  // namespace

std::string load_words(Target const& target, std::optional<JobFile> const& file) {
  int const pages = file ? std::max(file->pages, 1) : 1;
  long long const sheets = static_cast<long long>(pages) * target.copies;
  std::string text = std::to_string(sheets) + (sheets == 1 ? " sheet" : " sheets");
  if (pages > 1 && target.copies > 1) text += " (" + std::to_string(pages) + " pages x " + std::to_string(target.copies) + " copies)";
  else if (pages > 1) text += " (" + std::to_string(pages) + " pages)";
  else if (target.copies > 1) text += " (" + std::to_string(target.copies) + " copies)";
  return text;
}

LargeWords large_words(Target const& target, PressSetup const& setup, Unit unit) {
  LargeWords words;
  words.sheet = format_size(target.sheet.width, target.sheet.length, unit);
  words.tray = tray_name(target, setup);
  words.edge = target.sheet.feed == Feed::short_edge ? "SHORT EDGE FIRST" : "LONG EDGE FIRST";
  words.side = target.press.film_side_up.empty() ? "see film data sheet" : target.press.film_side_up;
  words.mirror = printer_mirrors(target) ? "MIRROR ON" : "MIRROR OFF";
  return words;
}

std::vector<Step> job_ticks(Target const& target, PressSetup const& setup, std::optional<JobFile> const& file, Unit unit) {
  std::vector<Step> ticks;
  auto const add = [&](char const* heading, std::string text) {
    if (!text.empty()) ticks.push_back({heading, std::move(text)});
  };
  std::string const film =
      format_size(target.sheet.width, target.sheet.length, unit) + " film" + (target.sheet.name.empty() ? "" : " (" + target.sheet.name + ")");
  add("Load", load_words(target, file) + " of " + film + ", rated by its maker for laser printers. Fan it; one at a time.");
  add("Exit", exit_words(target, setup) + " Let sheets cool before you stack them.");
  add("Paper", dialog_words(setup, {Topic::size, Topic::tray, Topic::media, Topic::exit, Topic::sides, Topic::size_check, Topic::tray_switch,
                                    Topic::way_round}));
  add("Quality", dialog_words(setup, {Topic::resolution, Topic::quality, Topic::colour, Topic::intent, Topic::own}));
  add("White", white_tick(target, setup));
  add("Mirror", mirror_tick(target, setup));
  add("Print", (file ? file->name : std::string("The file")) + ", " + std::to_string(target.copies) + (target.copies == 1 ? " copy" : " copies") +
                   ". Scaling OFF, 100%.");
  if (target.reading != WantedReading::as_is)
    add("Look", std::string("Letters on the printed side must read ") + (target.reading == WantedReading::wrong ? "mirrored." : "right."));
  if (target.heat.said())
    add("Heat press", heat_press_words(target.heat) + ". The film's data sheet decides. Hot: hands clear; never leave it alone.");
  return ticks;
}

}  // namespace layright
