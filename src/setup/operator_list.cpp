#include "setup/operator_list.h"

#include <algorithm>

#include "geometry/length.h"

namespace layright {
namespace {

std::string choice_words(Setting const& setting) {
  std::string text = setting.option + " = " + setting.choice;
  if (!setting.choice_label.empty() && setting.choice_label != setting.choice) text += " (\"" + setting.choice_label + "\")";
  return text;
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

std::string tray_words(Target const& target, PressSetup const& setup) {
  Setting const* tray = setup.about(Topic::tray);
  if (!tray)
    return target.press.media_source.empty() ? "the tray that takes single sheets" : "the tray that the press has as " + target.press.media_source;
  return tray->choice_label.empty() ? "the tray " + tray->choice : "the tray \"" + tray->choice_label + "\"";
}

Step load(Target const& target, PressSetup const& setup) {
  std::string side = target.press.film_side_up;
  if (side.empty()) side = "which side is up: as the film's data sheet says";
  return {"Load", "Put it into " + tray_words(target, setup) + ", " + feed_words(target.sheet.feed) + "; " + side + "."};
}

Step take(Target const& target, Unit unit) {
  std::string const name = target.sheet.name.empty() ? "" : " (" + target.sheet.name + ")";
  return {"Sheet", "Take film of " + format_size(target.sheet.width, target.sheet.length, unit) + name +
                       ", rated by its maker for laser fusing; fan it, one sheet at a time."};
}

Step exit_step(Target const& target, PressSetup const& setup) {
  Setting const* exit = setup.about(Topic::exit);
  if (exit)
    return {"Way out", "Open the exit " + std::string(exit->choice_label.empty() ? exit->choice : "\"" + exit->choice_label + "\"") +
                           "; let the sheet cool before you stack it."};
  if (target.press.output_bin == "face-up") return {"Way out", "Open the straight face-up exit; let the sheet cool before you stack it."};
  return {"Way out", "Use the straightest way out that the press has; let the sheet cool before you stack it."};
}

}  // namespace

std::string reversal_words(Target const& target) {
  auto const file = reading_of_file(target);
  if (!file) return "Nobody said how the sheet must read: it prints as the file is. Mirror OFF at the press.";
  std::string const printed = target.reading == WantedReading::wrong ? "mirrored" : "the right way round";
  std::string const now = *file == Reading::wrong ? "mirrored" : "the right way round";
  std::string const who = target.reverse_at == ReverseAt::printer ? "The printer mirrors it"
                          : target.reverse_at == ReverseAt::rip   ? "The RIP mirrors it; the printer must not"
                                                                  : "Neither the printer nor the RIP may mirror";
  return "The file must read " + now + ". " + who + ". The printed sheet must read " + printed + ".";
}

std::string white_words(White const& white) {
  if (!white.on) return {};
  return "White layer " + (white.percent ? "at " + format_number(*white.percent, 0) + " % of one full layer." : std::string("on."));
}

std::vector<std::string> const& cautions() {
  static std::vector<std::string> const all = {
      "Use only film that its maker rates for laser fusing. Other film can melt inside, damage the press or cause fire.",
      "Fuser, fresh sheets and heat press are hot: keep hands clear, let them cool, never leave a heat press alone.",
      "Air the room: hot toner, film and coatings give off fumes.",
      "The data sheets of film, press and heat press and the local codes come first; repairs are for licensed people.",
  };
  return all;
}

namespace {

std::string plate_step(Target const& target) {
  switch (target.plate.as) {
    case PlateAs::spot: break;
    case PlateAs::page:
      return std::string("In the file, on a page of its own ") + (target.plate.first ? "before" : "after") + " each page of art, as the spot color " +
             target.press.white_ink + ": two passes of one sheet, fed the same way.";
    case PlateAs::file:
      return "In a second file, whose name ends in -white.pdf, as the spot color " + target.press.white_ink +
             ": a pass of its own with the same sheet, fed the same way.";
  }
  return "In the file, as the spot color " + target.press.white_ink + ".";
}

}  // namespace

OperatorList operator_list(Target const& target, PressSetup const& setup, std::optional<JobFile> const& file, Unit unit) {
  OperatorList list;
  list.steps = {take(target, unit), load(target, setup), exit_step(target, setup)};
  // In the order of a print dialog; what a person sets by hand stands where the driver's setting would.
  auto by_hand = setup.by_hand;
  std::stable_sort(by_hand.begin(), by_hand.end(), [](auto const& a, auto const& b) { return a.topic < b.topic; });
  auto hand = by_hand.begin();
  auto const by_hand_before = [&](Topic topic) {
    for (; hand != by_hand.end() && hand->topic < topic; ++hand)
      list.steps.push_back({capital(std::string(word(hand->topic))), "By hand: " + hand->text + "."});
  };
  for (auto const& setting : setup.settings) {
    if (setting.topic == Topic::way_round) continue;
    by_hand_before(setting.topic);
    list.steps.push_back({capital(std::string(word(setting.topic))), choice_words(setting) + ": " + setting.why + "."});
  }
  by_hand_before(Topic::way_round);
  for (auto const& setting : setup.settings)
    if (setting.topic == Topic::way_round) list.steps.push_back({"Also", choice_words(setting) + ": " + setting.why + "."});
  if (auto const white = white_words(target.white); !white.empty()) list.steps.push_back({"White", white});
  if (target.plate.from != PlateFrom::off) list.steps.push_back({"White", plate_step(target) + " Keep the driver's own white OFF."});
  list.steps.push_back({"Mirror", reversal_words(target)});
  std::string const copies = target.copies == 1 ? "one sheet" : std::to_string(target.copies) + " sheets";
  list.steps.push_back(
      {"Print", "Send " + (file ? "the file" : std::string("the job")) + ", " + copies + ". Scaling is off: the page has the sheet's size."});
  if (target.reading != WantedReading::as_is)
    list.steps.push_back({"Look", std::string("Before pressing, look at the printed side: letters must read ") +
                                      (target.reading == WantedReading::wrong ? "mirrored." : "the right way round.")});
  if (target.dark_goods && !target.press.prints_white)
    list.watch.push_back("The goods are dark and this press lays no white: white parts will not print, and light colors will look dull.");
  for (auto const& finding : setup.findings) {
    bool const is_step = std::any_of(by_hand.begin(), by_hand.end(), [&](auto const& b) { return b.reported == finding.message; });
    if (!is_step) list.watch.push_back(capital(finding.message) + ".");
  }
  if (auto const& trial = target.press.trial)
    list.watch.push_back(capital(trial_words(*trial, unit)) + (target.press.correct ? " The file is corrected for shift and stretch." : ""));
  else list.watch.push_back("This press has not been tried with a trial sheet: print one on paper of the same size first.");
  list.cautions = cautions();
  return list;
}

std::string operator_text(OperatorList const& list) {
  std::string text;
  int number = 0;
  for (auto const& step : list.steps) text += std::to_string(++number) + ". " + step.heading + ": " + step.text + "\n";
  if (!list.watch.empty()) text += "\nWatch:\n";
  for (auto const& line : list.watch) text += "- " + line + "\n";
  text += "\nCautions:\n";
  for (auto const& line : list.cautions) text += "- " + line + "\n";
  return text;
}

}  // namespace layright
