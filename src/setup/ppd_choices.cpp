#include <algorithm>
#include <map>

#include "setup/ppd_library.h"
#include "setup/render.h"
#include "sheet/sizes.h"

namespace layright {
namespace {

/// What one keyword of IPP asks of the PPD: where libcups looks, and where we look when it finds nothing.
struct Question {
  Topic topic;
  char const* check;      // id of the finding when the PPD has no answer
  char const* attribute;  // IPP's name, for messages
  std::string keyword;    // IPP's word
  char const* cups_name;  // the option that cupsMarkOptions understands
  std::string cups_value;
  Level when_absent = Level::note;
};

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

/// A choice that has the word and means something else.
bool misleads(Topic topic, std::string const& name) {
  auto const holds = [&](std::initializer_list<std::string_view> words) {
    return std::any_of(words.begin(), words.end(), [&](auto word) { return name.find(word) != std::string::npos; });
  };
  switch (topic) {
    case Topic::tray: return holds({"env", "umschlag", "sobre", "busta", "postcard"});
    case Topic::media: return holds({"gloss", "photo", "backprint", "backlit", "vinyl", "whitefilm", "transparencyinter"});
    case Topic::exit: return holds({"facedown"});
    case Topic::colour: return holds({"gray", "grey", "mono", "separat", "draft"});
    case Topic::intent: return holds({"absolute"});
    case Topic::quality:  // "PlainHigh" chooses a paper as well
      return holds({"gray", "grey", "mono", "plain", "gloss", "photo", "bond", "premium", "paper", "coated", "recycl"});
    default: return false;
  }
}

/// By the table of words, the surest word first; a name that is the keyword itself is surest of all. Only among choices that are `allowed`.
std::string by_words(Ppd::Members const& ppd, ppd_option_t const* option, Topic topic, std::string const& keyword, auto const& allowed) {
  auto const find = [&](auto const& fits) -> std::string {
    for (int i = 0; i < option->num_choices; ++i) {
      ppd_choice_t const& choice = option->choices[i];
      auto const names = ppd_choice_names(ppd, option, choice);
      bool const other =
          std::string_view(choice.choice) == "Custom" || std::any_of(names.begin(), names.end(), [&](auto const& n) { return misleads(topic, n); });
      if (!other && std::any_of(names.begin(), names.end(), fits) && allowed(choice)) return choice.choice;
    }
    return {};
  };
  if (keyword == "absolute" || keyword == "monochrome") {  // what misleads others is what these ask for
    for (std::string_view const entry : words_for(keyword))
      for (int i = 0; i < option->num_choices; ++i)
        for (auto const& name : ppd_choice_names(ppd, option, option->choices[i]))
          if (entry[0] == '=' ? name == entry.substr(1) : name.find(entry) != std::string::npos) return option->choices[i].choice;
    return {};
  }
  std::string const wanted = plain_word(keyword);
  if (auto found = find([&](std::string const& name) { return name == wanted; }); !found.empty()) return found;
  for (std::string_view const entry : words_for(keyword)) {
    bool const whole = entry[0] == '=';
    auto found = find([&](std::string const& name) { return whole ? name == entry.substr(1) : name.find(entry) != std::string::npos; });
    if (!found.empty()) return found;
  }
  return {};
}

/// The driver's default where it is colour already: there may be several ways of printing colour, and it has the maker's.
std::string colour_by_default(Ppd::Members const& ppd, ppd_option_t const* option, Question const& question) {
  if (question.topic != Topic::colour || question.keyword != "color") return {};
  ppd_choice_t const* choice = nullptr;
  for (int i = 0; i < option->num_choices; ++i)
    if (std::string_view(option->choices[i].choice) == option->defchoice) choice = &option->choices[i];
  if (!choice) return {};
  auto const names = ppd_choice_names(ppd, option, *choice);
  auto const colour = [](std::string const& name) {
    return name.find("color") != std::string::npos || name.find("colour") != std::string::npos || name.starts_with("cmy") || name == "rgb";
  };
  bool const grey = std::any_of(names.begin(), names.end(), [](auto const& name) { return misleads(Topic::colour, name); });
  return !grey && std::any_of(names.begin(), names.end(), colour) ? choice->choice : "";
}

/// "Eject face-up: On", "Print colour as grey: No": the answer lies in the option's own name.
std::string by_yes_or_no(ppd_option_t const* option, Question const& question) {
  ppd_choice_t const *yes = ppd_yes(option), *no = ppd_no(option);
  if (!yes || !no) return {};
  if (question.topic == Topic::exit) return question.keyword == "face-up" ? yes->choice : question.keyword == "face-down" ? no->choice : "";
  if (question.topic != Topic::colour) return {};
  auto const name = plain_word(option->keyword) + " " + plain_word(option->text);
  bool const grey = name.find("gray") != std::string::npos || name.find("grey") != std::string::npos || name.find("mono") != std::string::npos ||
                    name.find("black") != std::string::npos;
  return grey == (question.keyword == "color") ? no->choice : yes->choice;
}

void say(PressSetup& setup, char const* check, Level level, std::string const& message) { setup.report(check, level, message, ""); }

/// Whether a choice needs no part that the PPD, with the press's own options set, takes for not installed.
bool is_installed(Ppd::Members& ppd, PressSetup const& setup, char const* option, std::string const& choice) {
  ppdMarkDefaults(ppd.file);
  for (auto const& setting : setup.settings) ppdMarkOption(ppd.file, setting.option.c_str(), setting.choice.c_str());
  bool const installed = !ppdInstallableConflict(ppd.file, option, choice.c_str());
  ppdMarkDefaults(ppd.file);
  return installed;
}

/// Whether the PPD takes what the choice needs for fitted; else it is reported.
bool take(Ppd::Members& ppd, Question const& question, ppd_option_t const* option, std::string const& choice, PressSetup& setup) {
  if (is_installed(ppd, setup, option->keyword, choice)) return true;
  setup.report(question.check, question.when_absent,
               std::string(question.attribute) + " " + question.keyword + " would be " + option->keyword + "=" + choice +
                   ", but the press's PPD takes that part for not installed",
               "if the press has it, say so under options in the press's table", question.topic);
  return false;
}

/// A quality may not set fewer dots than the resolution that was asked for.
bool lowers_resolution(ppd_option_t* option, std::string const& choice, std::optional<Dots> const& asked) {
  ppd_choice_t const* known = ppdFindChoice(option, choice.c_str());
  auto const dots = dots_in_code(known && known->code ? known->code : "");
  return asked && dots.across && 1.0 * dots.across * dots.along < 1.0 * asked->across * asked->along;
}

void answer(Ppd::Members& ppd, Question const& question, std::optional<Dots> const& dots, PressSetup& setup) {
  if (question.keyword.empty() || setup.about(question.topic)) return;
  ppd_option_t const* seen = nullptr;
  std::string const asked = std::string(question.attribute) + " " + question.keyword;
  for (ppd_option_t* option : ppd_options_about(ppd, question.topic)) {
    for (auto const& own : setup.settings)
      if (own.option == option->keyword) {
        if (own.topic == Topic::own || question.topic != Topic::quality) ppd_add(ppd, setup, question.topic, own.option, own.choice, own.why);
        return;  // what is asked of the resolution goes before what is asked of the quality
      }
    std::string choice = *question.cups_name ? by_libcups(ppd.file, option, question) : "";
    char const* how = "the press's own name for ";
    if (choice.empty()) choice = colour_by_default(ppd, option, question), how = "the driver's own for ";
    if (choice.empty()) {
      auto const installed = [&](ppd_choice_t const& c) { return is_installed(ppd, setup, option->keyword, c.choice); };
      how = "the nearest name that the press has for ";
      choice = by_words(ppd, option, question.topic, question.keyword, installed);
      if (choice.empty()) choice = by_words(ppd, option, question.topic, question.keyword, [](ppd_choice_t const&) { return true; });
    }
    if (choice.empty()) choice = by_yes_or_no(option, question);
    if (choice.empty()) {
      if (!seen) seen = option;
      continue;
    }
    if (question.topic == Topic::quality && lowers_resolution(option, choice, dots))
      return say(setup, question.check, Level::note,
                 asked + " would be " + option->keyword + "=" + choice +
                     ", which prints with fewer dots than the resolution that is asked for, so it is left out");
    if (!take(ppd, question, option, choice, setup)) return;
    return ppd_add(ppd, setup, question.topic, option->keyword, choice, how + asked);
  }
  if (!seen) return setup.report(question.check, Level::note, "the press's PPD has no option for " + asked, "set it at the press", question.topic);
  setup.report(question.check, question.when_absent,
               "the press's PPD has no " + asked + "; its " + seen->keyword + " offers " + ppd_choices_in_words(seen),
               "name the right one under options in the press's table, or set it at the press", question.topic);
}

/// 3, 4, 5 of RFC 8011, 5.2.13.
std::string quality_number(std::string const& word) { return word == "draft" ? "3" : word == "normal" ? "4" : word == "high" ? "5" : word; }

/// What is set then, where it is known.
std::optional<Dots> add_resolution(Ppd::Members& ppd, Target const& target, PressSetup& setup) {
  std::string const& wanted = target.press.printer_resolution;
  auto const all = ppd_resolutions(ppd);
  for (auto const& offered : all)
    for (auto const& own : setup.settings)
      if (own.option == offered.option->keyword && own.choice == offered.choice->choice) {
        ppd_add(ppd, setup, Topic::resolution, own.option, own.choice, own.why);
        return offered.dots;
      }
  if (wanted.empty()) return std::nullopt;
  auto const dots = parse_resolution(wanted);
  for (auto const& offered : all) {
    if (wanted != kFinest && !(offered.dots == dots && offered.plain)) continue;
    if (!is_installed(ppd, setup, offered.option->keyword, offered.choice->choice)) continue;
    ppd_add(ppd, setup, Topic::resolution, offered.option->keyword, offered.choice->choice,
            "asked for as printer-resolution " + wanted + ": " + std::to_string(offered.dots.across) + " x " + std::to_string(offered.dots.along) +
                " dots to the inch");
    return offered.dots;
  }
  if (all.empty())
    setup.report("press.resolution", Level::note, "the press's PPD offers no choice of resolution, so " + wanted + " cannot be asked for",
                 "see at the press that it is set", Topic::resolution);
  else
    setup.report("press.resolution", Level::note,
                 "the press's PPD has no printer-resolution " + wanted + "; it offers " + ppd_choices_in_words(all.front().option),
                 "name another in the press's table, or set it at the press", Topic::resolution);
  return std::nullopt;
}

/// The press's own names, as the configuration gives them.
void add_own(Ppd::Members& ppd, PressOptions const& options, Topic topic, Target const& target, std::string const& why, PressSetup& setup) {
  for (auto const& [name, written] : options) {
    std::string const choice = with_percent(written, target.white);
    if (name == "PageSize" || name == "PageRegion") {
      say(setup, "press.option", Level::hold,
          name + "=" + choice + " in the press's table is left out: the size comes from the target's sheet; take it out of the table");
      continue;
    }
    ppd_option_t* option = ppdFindOption(ppd.file, name.c_str());
    if (!option) {
      std::vector<std::string> names;
      for (ppd_option_t* known = ppdFirstOption(ppd.file); known; known = ppdNextOption(ppd.file)) names.emplace_back(known->keyword);
      std::string const near = nearest_name(name, names);
      say(setup, "press.option", Level::hold,
          "the press's PPD has no option " + name + ", so " + name + "=" + choice + " is left out" +
              (near.empty() ? "" : "; did you mean " + near + "?"));
      continue;
    }
    bool const custom = choice.starts_with("Custom.") && ppdFindCustomOption(ppd.file, name.c_str());
    if (!custom && !ppdFindChoice(option, choice.c_str())) {
      say(setup, "press.option", Level::hold,
          "the press's PPD has no choice " + choice + " for " + name + ", so it is left out; it offers " + ppd_choices_in_words(option));
      continue;
    }
    ppd_add(ppd, setup, topic, option->keyword, choice, why);
  }
}

/// Where the press's table does not say how to reverse: an option that is named so, with a yes and a no.
void add_mirror(Ppd::Members& ppd, bool reverse, PressSetup& setup) {
  if (setup.about(Topic::mirror)) return;
  std::string const why = reverse ? "the printer does the one mirroring" : "the printer must not mirror: somebody else does, or nobody";
  for (ppd_option_t* option : ppd_options_about(ppd, Topic::mirror)) {
    ppd_choice_t const* choice = reverse ? ppd_yes(option) : ppd_no(option);
    if (reverse && !choice) choice = ppdFindChoice(option, "Mirror");
    if (choice) return ppd_add(ppd, setup, Topic::mirror, option->keyword, choice->choice, why);
  }
  if (reverse)
    setup.report("press.mirror", Level::hold, "the printer is to mirror, but its PPD has no option for that",
                 "name one under mirror-on in the press's table, switch it on at the press, or let the file be mirrored (reverse-at = \"file\")",
                 Topic::mirror);
}

void report_white(Target const& target, PressSetup& setup) {
  if (!target.white.on || setup.about(Topic::white)) return;
  if (target.press.prints_white)
    setup.report("press.white", Level::note, "nothing in the press's table says how its driver switches the white layer on (white-on)",
                 "set it at the press", Topic::white);
  else
    say(setup, "press.white", Level::hold,
        "the target wants a white layer, and the press's table does not say that the press lays white (prints-white)");
}

}  // namespace

std::string ppd_choices_in_words(ppd_option_t const* option) {
  std::string text;
  for (int i = 0; i < std::min(option->num_choices, 12); ++i) {
    ppd_choice_t const& choice = option->choices[i];
    text += (i ? ", " : "") + std::string(choice.choice);
    if (plain_word(choice.text) != plain_word(choice.choice) && choice.text[0]) text += " (\"" + std::string(choice.text) + "\")";
  }
  return option->num_choices > 12 ? text + ", …" : text;
}

void ppd_choice_settings(Ppd::Members& ppd, Target const& target, PressSetup& setup) {
  Press const& press = target.press;
  bool const reverse = target.reverse_at == ReverseAt::printer;
  add_own(ppd, target.white.on ? press.white_on : press.white_off, Topic::white, target,
          target.white.on ? "the target wants a white layer" : "the target wants no white layer", setup);
  add_own(ppd, reverse ? press.mirror_on : press.mirror_off, Topic::mirror, target,
          reverse ? "the printer does the one mirroring" : "the printer must not mirror", setup);
  add_own(ppd, press.no_size_check, Topic::size_check, target, "the press must not check the size of the film", setup);
  add_own(ppd, press.no_tray_switch, Topic::tray_switch, target, "the press must not switch to another tray", setup);
  add_own(ppd, press.options, Topic::own, target, "from the press's table", setup);

  std::string const intent = intent_keyword(target.render);
  auto const dots = add_resolution(ppd, target, setup);
  for (Question const& question : {
           Question{Topic::tray, "press.tray", "media-source", press.media_source, "media", press.media_source, Level::hold},
           Question{Topic::media, "press.media", "media-type", press.media_type, "media", press.media_type, Level::hold},
           Question{Topic::exit, "press.exit", "output-bin", press.output_bin, "output-bin", press.output_bin},
           Question{Topic::sides, "press.sides", "sides", "one-sided", "sides", "one-sided"},
           Question{Topic::quality, "press.quality", "print-quality", press.print_quality, "print-quality", quality_number(press.print_quality)},
           Question{Topic::colour, "press.colour", "print-color-mode", press.print_color_mode, "print-color-mode", press.print_color_mode},
           Question{Topic::intent, "press.intent", "print-rendering-intent", intent, "", intent},
       })
    answer(ppd, question, dots, setup);
  add_mirror(ppd, reverse, setup);
  ppd_guard_settings(ppd, target, setup);
  report_white(target, setup);
  // A press without a second side, or without a choice of intent, needs no word about it.
  auto const no_word = [](std::string const& message) {
    return message.find("has no option for sides") != std::string::npos ||
           message.find("has no option for print-rendering-intent") != std::string::npos;
  };
  std::erase_if(setup.findings, [&](Finding const& f) { return no_word(f.message); });
  std::erase_if(setup.by_hand, [&](ByHand const& b) { return no_word(b.reported); });
}

}  // namespace layright
