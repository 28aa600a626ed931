#include <algorithm>
#include <functional>
#include <map>

#include "setup/ppd_library.h"
#include "setup/ppd_words.h"
#include "setup/render.h"
#include "sheet/sizes.h"

namespace layright {
namespace {

using Marks = std::map<std::string, std::string>;

/// What one keyword of IPP asks of the PPD: where libcups looks, and where we look when it finds nothing.
struct Question {
  Topic topic;
  char const* check;      // id of the finding when the PPD has no answer
  char const* attribute;  // IPP's name, for messages
  std::string keyword;    // IPP's word
  char const* cups_name;  // the option that cupsMarkOptions understands
  std::string cups_value;
  std::function<bool(std::string const& plain_keyword)> may_hold;  // which of the PPD's options can answer
  Level when_absent = Level::note;
};

std::vector<ppd_option_t*> options_of(ppd_file_t* file) {
  std::vector<ppd_option_t*> all;
  for (ppd_option_t* option = ppdFirstOption(file); option; option = ppdNextOption(file)) all.push_back(option);
  return all;
}

std::string marked(ppd_file_t* file, ppd_option_t const* option) {
  ppd_choice_t const* choice = ppdFindMarkedChoice(file, option->keyword);
  return choice ? choice->choice : "";
}

/// libcups' own mapping: the choice that it marks whatever was marked before.
std::string by_libcups(ppd_file_t* file, ppd_option_t* option, Question const& question) {
  std::string result;
  for (int start : {0, option->num_choices - 1}) {
    ppdMarkDefaults(file);
    ppdMarkOption(file, option->keyword, option->choices[start].choice);
    cups_option_t* asked = nullptr;
    int const count = cupsAddOption(question.cups_name, question.cups_value.c_str(), 0, &asked);
    cupsMarkOptions(file, count, asked);
    cupsFreeOptions(count, asked);
    std::string const now = marked(file, option);
    if (start == 0) result = now;
    else if (now != result) result.clear();
  }
  ppdMarkDefaults(file);
  return option->num_choices > 1 ? result : "";
}

/// By the table of words, the surest word first; a name that is the keyword itself is surest of all.
std::string by_words(ppd_option_t const* option, std::string const& keyword) {
  auto const find = [&](auto const& fits) -> std::string {
    for (int i = 0; i < option->num_choices; ++i) {
      ppd_choice_t const& choice = option->choices[i];
      if (std::string_view(choice.choice) != "Custom" && (fits(plain_word(choice.choice)) || fits(plain_word(choice.text)))) return choice.choice;
    }
    return {};
  };
  std::string const wanted = plain_word(keyword);
  if (auto found = find([&](std::string const& name) { return name == wanted; }); !found.empty()) return found;
  for (std::string_view const entry : words_for(keyword)) {
    bool const whole = entry[0] == '=';
    auto found = find([&](std::string const& name) {
      return whole ? name == entry.substr(1) : name.find(entry) != std::string::npos;
    });
    if (!found.empty()) return found;
  }
  return {};
}

std::string choices_in_words(ppd_option_t const* option) {
  std::string text;
  for (int i = 0; i < option->num_choices && i < 12; ++i) text += (i ? ", " : "") + std::string(option->choices[i].choice);
  return option->num_choices > 12 ? text + ", …" : text;
}

void say(PressSetup& setup, char const* check, Level level, std::string message) {
  Finding finding;
  finding.check = check;
  finding.level = level;
  finding.message = std::move(message);
  setup.findings.push_back(std::move(finding));
}

/// Whether a choice needs no part that the PPD, with the press's own options set, takes for not installed.
bool is_installed(Ppd::Members& ppd, PressSetup const& setup, char const* option, std::string const& choice) {
  ppdMarkDefaults(ppd.file);
  for (auto const& setting : setup.settings) ppdMarkOption(ppd.file, setting.option.c_str(), setting.choice.c_str());
  bool const installed = !ppdInstallableConflict(ppd.file, option, choice.c_str());
  ppdMarkDefaults(ppd.file);
  return installed;
}

void answer(Ppd::Members& ppd, Question const& question, PressSetup& setup) {
  if (question.keyword.empty() || setup.about(question.topic)) return;
  ppd_option_t const* seen = nullptr;
  std::string const asked = std::string(question.attribute) + " " + question.keyword;
  for (ppd_option_t* option : options_of(ppd.file)) {
    if (!question.may_hold(plain_word(option->keyword)) || option->num_choices < 1) continue;
    for (auto const& own : setup.settings)
      if (own.option == option->keyword) return ppd_add(ppd, setup, question.topic, own.option, own.choice, own.why);
    if (!seen) seen = option;
    std::string choice = *question.cups_name ? by_libcups(ppd.file, option, question) : "";
    char const* how = "the press's own name for ";
    if (choice.empty()) choice = by_words(option, question.keyword), how = "the nearest name that the press has for ";
    if (choice.empty()) continue;
    if (!is_installed(ppd, setup, option->keyword, choice)) {
      return say(setup, question.check, question.when_absent,
                 asked + " would be " + option->keyword + "=" + choice + ", but the press's PPD takes that part for not installed: if the press "
                 "has it, say so under options in the press's table");
    }
    return ppd_add(ppd, setup, question.topic, option->keyword, choice, how + asked);
  }
  if (!seen) return say(setup, question.check, Level::note, "the press's PPD has no option for " + asked + ": set it at the press");
  say(setup, question.check, question.when_absent,
      "the press's PPD has no " + asked + "; its " + seen->keyword + " offers " + choices_in_words(seen) +
          ": name the right one under options in the press's table");
}

/// 3, 4, 5 of RFC 8011, 5.2.13.
std::string quality_number(std::string const& word) {
  return word == "draft" ? "3" : word == "normal" ? "4" : word == "high" ? "5" : word;
}

void add_resolution(Ppd::Members& ppd, Target const& target, PressSetup& setup) {
  std::string const& wanted = target.press.printer_resolution;
  if (wanted.empty()) return;
  auto const dots = parse_resolution(wanted);
  ppd_option_t const* seen = nullptr;
  for (ppd_option_t* option : options_of(ppd.file)) {
    if (!plain_word(option->keyword).ends_with("resolution")) continue;
    Dots finest;
    std::string chosen;
    for (int i = 0; i < option->num_choices; ++i) {
      auto const offered = parse_resolution(option->choices[i].choice);
      if (!offered.across) continue;
      seen = option;
      bool const finer = 1.0 * offered.across * offered.along > 1.0 * finest.across * finest.along;
      if (wanted == kFinest ? finer : offered == dots) finest = offered, chosen = option->choices[i].choice;
    }
    if (!chosen.empty()) return ppd_add(ppd, setup, Topic::resolution, option->keyword, chosen, "asked for as printer-resolution " + wanted);
  }
  say(setup, "press.resolution", Level::note,
      seen ? "the press's PPD has no printer-resolution " + wanted + "; it offers " + choices_in_words(seen)
           : "the press's PPD offers no choice of resolution: " + wanted + " cannot be asked for");
}

/// The press's own names, as the configuration gives them.
void add_own(Ppd::Members& ppd, PressOptions const& options, Topic topic, Target const& target, std::string const& why, PressSetup& setup) {
  for (auto const& [name, written] : options) {
    std::string const choice = with_percent(written, target.white);
    if (name == "PageSize" || name == "PageRegion") {
      say(setup, "press.option", Level::hold, name + "=" + choice + " in the press's table is left out: the size comes from the target's sheet; take it out of the table");
      continue;
    }
    ppd_option_t* option = ppdFindOption(ppd.file, name.c_str());
    if (!option) {
      std::vector<std::string> names;
      for (ppd_option_t const* known : options_of(ppd.file)) names.emplace_back(known->keyword);
      std::string const near = nearest_name(name, names);
      say(setup, "press.option", Level::hold, "the press's PPD has no option " + name + ", so " + name + "=" + choice + " is left out" +
                                                  (near.empty() ? "" : "; did you mean " + near + "?"));
      continue;
    }
    bool const custom = choice.starts_with("Custom.") && ppdFindCustomOption(ppd.file, name.c_str());
    if (!custom && !ppdFindChoice(option, choice.c_str())) {
      say(setup, "press.option", Level::hold, "the press's PPD has no choice " + choice + " for " + name + ", so it is left out; it offers " +
                                                  choices_in_words(option));
      continue;
    }
    ppd_add(ppd, setup, topic, option->keyword, choice, why);
  }
}

/// Where the press's table does not say how to reverse: an option that is named so, with a yes and a no.
void add_mirror(Ppd::Members& ppd, bool reverse, PressSetup& setup) {
  if (setup.about(Topic::mirror)) return;
  std::string const why = reverse ? "the printer makes the one reversal" : "the printer must not reverse: somebody else does, or nobody";
  for (ppd_option_t* option : options_of(ppd.file)) {
    if (plain_word(option->keyword).find("mirror") == std::string::npos) continue;
    for (auto const& [yes, no] : {std::pair{"True", "False"}, std::pair{"On", "Off"}, std::pair{"Yes", "No"}, std::pair{"Mirror", "None"}}) {
      char const* choice = reverse ? yes : no;
      if (ppdFindChoice(option, choice)) return ppd_add(ppd, setup, Topic::mirror, option->keyword, choice, why);
    }
  }
  if (reverse)
    say(setup, "press.mirror", Level::hold,
        "the printer is to reverse, but its PPD has no option for that: name one under mirror-on in the press's table, switch it on at the "
        "press, or let the file be reversed (reverse-at = \"file\")");
}

void tell_white(Target const& target, PressSetup& setup) {
  if (!target.white.on || setup.about(Topic::white)) return;
  say(setup, "press.white", target.press.prints_white ? Level::note : Level::hold,
      target.press.prints_white ? "nothing in the press's table says how its driver switches the white layer on (white-on): set it at the press"
                                : "the target wants a white layer, and the press's table does not say that the press lays white (prints-white)");
}

}  // namespace

void ppd_choice_settings(Ppd::Members& ppd, Target const& target, PressSetup& setup) {
  Press const& press = target.press;
  bool const reverse = target.reverse_at == ReverseAt::printer;
  add_own(ppd, target.white.on ? press.white_on : press.white_off, Topic::white, target,
          target.white.on ? "the target wants a white layer" : "the target wants no white layer", setup);
  add_own(ppd, reverse ? press.mirror_on : press.mirror_off, Topic::mirror, target,
          reverse ? "the printer makes the one reversal" : "the printer must not reverse", setup);
  add_own(ppd, press.no_size_check, Topic::size_check, target, "the press shall not check the size of the film", setup);
  add_own(ppd, press.no_tray_switch, Topic::tray_switch, target, "the press shall not go over to another tray", setup);
  add_own(ppd, press.options, Topic::own, target, "from the press's table", setup);

  auto const has = [](char const* part) { return [part](std::string const& name) { return name.find(part) != std::string::npos; }; };
  auto const is = [](char const* whole) { return [whole](std::string const& name) { return name == whole; }; };
  std::string const intent = intent_keyword(target.render);
  for (Question const& question : {
           Question{Topic::tray, "press.tray", "media-source", press.media_source, "media", press.media_source, is("inputslot"), Level::hold},
           Question{Topic::media, "press.media", "media-type", press.media_type, "media", press.media_type, is("mediatype"), Level::hold},
           Question{Topic::exit, "press.exit", "output-bin", press.output_bin, "output-bin", press.output_bin, is("outputbin")},
           Question{Topic::sides, "press.sides", "sides", "one-sided", "sides", "one-sided", has("duplex")},
           Question{Topic::quality, "press.quality", "print-quality", press.print_quality, "print-quality",
                    quality_number(press.print_quality), [](std::string const& n) { return n == "outputmode" || n.ends_with("quality"); }},
           Question{Topic::colour, "press.colour", "print-color-mode", press.print_color_mode, "print-color-mode", press.print_color_mode,
                    [](std::string const& n) { return n == "colormodel" || n == "colormode" || n == "selectcolor"; }},
           Question{Topic::intent, "press.intent", "print-rendering-intent", intent, "", intent, has("intent")},
       })
    answer(ppd, question, setup);
  add_resolution(ppd, target, setup);
  add_mirror(ppd, reverse, setup);
  tell_white(target, setup);
  // A press without a second side, or without a choice of intent, needs no word about it.
  std::erase_if(setup.findings, [](Finding const& f) {
    return (f.check == "press.sides" || f.check == "press.intent") && f.message.find("has no option") != std::string::npos;
  });
}

}  // namespace layright
