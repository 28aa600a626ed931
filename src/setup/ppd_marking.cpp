#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "setup/ppd_library.h"

namespace layright {
namespace {

void mark_all(ppd_file_t* file, PressSetup const& setup) {
  ppdMarkDefaults(file);
  for (auto const& setting : setup.settings) ppdMarkOption(file, setting.option.c_str(), setting.choice.c_str());
}

struct Chosen {
  std::string option, choice;
};
/// Two marked choices that exclude each other; `line` of the PPD says so (empty where it could not be found).
struct Clash {
  Chosen one, other;
  std::string line;
};

Setting const* ours(PressSetup const& setup, std::string const& option) {
  for (auto const& setting : setup.settings)
    if (setting.option == option || (setting.option == "PageSize" && option == "PageRegion")) return &setting;
  return nullptr;
}

/// Every option that libcups flags as being in a conflict, with what is marked. Ours come first.
std::vector<Chosen> conflicted(ppd_file_t* file, PressSetup const& setup) {
  std::vector<Chosen> result;
  for (ppd_option_t const* option = ppdFirstOption(file); option; option = ppdNextOption(file)) {
    if (!option->conflicted) continue;
    Setting const* setting = ours(setup, option->keyword);
    ppd_choice_t const* choice = ppdFindMarkedChoice(file, option->keyword);
    result.push_back({option->keyword, setting ? setting->choice : choice ? choice->choice : ""});
  }
  std::stable_partition(result.begin(), result.end(), [&](Chosen const& c) { return ours(setup, c.option) != nullptr; });
  return result;
}

/// `told`: pairs of options that have been told of and stay.
std::optional<Clash> first_clash(Ppd::Members& ppd, PressSetup const& setup, std::vector<std::string> const& reported) {
  auto const is_reported = [&](Chosen const& a, Chosen const& b) {
    return std::find(reported.begin(), reported.end(), a.option + "\n" + b.option) != reported.end();
  };
  if (ppdConflicts(ppd.file) == 0) return std::nullopt;
  auto const all = conflicted(ppd.file, setup);
  for (std::size_t i = 0; i < all.size(); ++i)
    for (std::size_t j = all.size() - 1; j > i; --j)
      if (auto line = ppd.lines.quote_constraint(all[i].option, all[i].choice, all[j].option, all[j].choice);
          !line.empty() && !is_reported(all[i], all[j]))
        return Clash{all[i], all[j], line};
  if (all.size() < 2 || is_reported(all.front(), all.back()) || !reported.empty()) return std::nullopt;
  return Clash{all.front(), all.back(), {}};
}

std::string pair_words(Chosen const& chosen) { return chosen.option + "=" + chosen.choice; }

/// Parts that the press may or may not have are no choice to go round a conflict with.
bool is_part(ppd_file_t const* file, std::string const& option) {
  for (int i = 0; i < file->num_groups; ++i) {
    ppd_group_t const& group = file->groups[i];
    if (std::string_view(group.name) != "InstallableOptions") continue;
    for (int j = 0; j < group.num_options; ++j)
      if (option == group.options[j].keyword) return true;
  }
  return false;
}

/// What a job cannot do without. Where one of these is in a conflict that cannot be gone round, a person decides.
bool matters(Topic topic) {
  switch (topic) {
    case Topic::size:
    case Topic::tray:
    case Topic::media:
    case Topic::colour:
    case Topic::resolution:
    case Topic::white:
    case Topic::mirror:
    case Topic::own: return true;
    default: return false;
  }
}

/// A setting that somebody asked for and that may be left out. What was set to go round another conflict is neither.
bool gives_way(Topic topic) { return !matters(topic) && topic != Topic::way_round; }

/// A choice of an option that nobody asked for which switches it off, or leaves it to the press, and ends conflicts; empty when none does. A
/// choice that does something (one separation, fewer tones, another paper) is never such a way round.
std::string harmless_choice(ppd_file_t* file, std::string const& option) {
  ppd_option_t* known = ppdFindOption(file, option.c_str());
  int fewest = ppdConflicts(file);
  std::string best;
  for (int i = 0; known && i < known->num_choices; ++i) {
    char const* choice = known->choices[i].choice;
    auto const name = plain_word(choice), label = plain_word(known->choices[i].text);
    auto const is = [&](std::string_view word) { return name == word || label == word; };
    bool const off = &known->choices[i] == ppd_no(known) || is("none") || is("off") || is("false") || is("no") || is("auto") || is("automatic") ||
                     is("autoselect") || is("default") || is("printerdefault") || is("printersetting") || is("unspecified") || is("simplex") ||
                     is("onesided");
    if (!off) continue;
    int const left = ppdMarkOption(file, option.c_str(), choice);
    if (left < fewest) fewest = left, best = choice;
  }
  return best;
}

/// The next finer resolution that is in no conflict, for "finest"; whether there is one.
bool take_next_resolution(Ppd::Members& ppd, PressSetup& setup, Clash const& clash) {
  auto const setting = std::find_if(setup.settings.begin(), setup.settings.end(), [](auto const& s) { return s.topic == Topic::resolution; });
  if (setting == setup.settings.end() || (clash.one.option != setting->option && clash.other.option != setting->option)) return false;
  auto const all = ppd_resolutions(ppd);
  auto now = std::find_if(all.begin(), all.end(),
                          [&](auto const& r) { return setting->option == r.option->keyword && setting->choice == r.choice->choice; });
  while (now != all.end() && ++now != all.end()) {
    if (setting->option != now->option->keyword) continue;
    if (ppdMarkOption(ppd.file, now->option->keyword, now->choice->choice), ppdFindOption(ppd.file, now->option->keyword)->conflicted) continue;
    auto const& against = clash.one.option == setting->option ? clash.other : clash.one;
    setup.report("press.resolution", Level::hold,
                 setting->option + "=" + setting->choice + " does not go with " + pair_words(against) +
                     (clash.line.empty() ? "" : " (" + clash.line + ")") + ", so the finest that does is taken, " + now->choice->choice,
                 "say printer-resolution = \"" + std::to_string(now->dots.across) +
                     (now->dots.along == now->dots.across ? "" : "x" + std::to_string(now->dots.along)) +
                     "dpi\" in the press's table where that will do, or name another " + against.option + " under options");
    setting->choice = now->choice->choice;
    setting->choice_label = now->choice->text;
    setting->why = "the finest that goes with " + pair_words(against);
    return true;
  }
  return false;
}

/// Takes out the setting of an option; it is reported.
void give_way(PressSetup& setup, Chosen const& less, Chosen const& more, std::string const& says) {
  auto const setting = std::find_if(setup.settings.begin(), setup.settings.end(), [&](auto const& s) { return s.option == less.option; });
  setup.report("press.conflict", Level::note, pair_words(less) + " excludes " + pair_words(more) + says + ", so it is left out",
               "the press keeps its own there");
  setup.settings.erase(setting);
}

/// The numbers that libcups sends before the custom size's code, in the order of the parameters' own numbers; empty for a named size.
std::vector<double> sent_numbers(ppd_file_t* file) {
  std::string all;
  for (auto section : {PPD_ORDER_JCL, PPD_ORDER_EXIT, PPD_ORDER_PROLOG, PPD_ORDER_DOCUMENT, PPD_ORDER_ANY, PPD_ORDER_PAGE}) {
    char* text = ppdEmitString(file, section, 0);
    all += text ? text : "";
    std::free(text);
  }
  std::vector<double> numbers;
  constexpr std::string_view kBegin = "*CustomPageSize True";
  auto at = all.find(kBegin);
  if (at == std::string::npos) return numbers;
  char const* from = all.c_str() + at + kBegin.size();
  for (int i = 0; i < 5; ++i) {
    char* end = nullptr;
    double const value = std::strtod(from, &end);
    if (end == from) break;
    numbers.push_back(value);
    from = end;
  }
  return numbers;
}

/// libcups checks neither names nor ranges while marking: see what came out.
Outcome compare(ppd_file_t* file, PressSetup const& setup) {
  for (auto const& setting : setup.settings) {
    if (setting.choice.starts_with("Custom.")) continue;
    ppd_choice_t const* now = ppdFindMarkedChoice(file, setting.option.c_str());
    if (!now || setting.choice != now->choice)
      return Error{ErrorKind::hold, "asked for " + pair_words({setting.option, setting.choice}) + ", libcups set " +
                                        (now ? pair_words({setting.option, now->choice}) : "nothing") +
                                        ": two settings of the press's table may be two names of one option"};
  }
  return done();
}

Outcome compare_numbers(ppd_file_t* file, PressSetup const& setup) {
  Setting const* size = setup.about(Topic::size);
  if (!size || !size->choice.starts_with("Custom.")) return done();
  auto const numbers = sent_numbers(file);
  ppd_size_t const* marked = ppdPageSize(file, nullptr);
  ppd_coption_t* custom = ppdFindCustomOption(file, "PageSize");
  if (numbers.empty() || !marked || !custom) return done();  // sizes that travel in a driver's own words
  for (auto [name, value] : {std::pair{"Width", marked->width}, std::pair{"Height", marked->length}}) {
    ppd_cparam_t const* parameter = ppdFindCustomParam(custom, name);
    auto const at = static_cast<std::size_t>(parameter ? parameter->order - 1 : 0);
    bool const there = parameter && parameter->order >= 1 && at < numbers.size();
    // libcups writes whole points into the code.
    if (!there || std::abs(numbers[at] - static_cast<double>(value)) > 1)
      return Error{ErrorKind::hold, std::string("the custom size's ") + name +
                                        " did not come out in the press's code as it was asked: ask for "
                                        "the size at the press, or use another driver"};
  }
  return done();
}

}  // namespace

Outcome ppd_mark(Ppd::Members& ppd, Target const& target, PressSetup& setup) {
  mark_all(ppd.file, setup);
  std::vector<std::string> reported;       // conflicts that stay
  constexpr int kMostMarkingRounds = 100;  // two choices of a PPD can drive each other round for ever
  for (int round = 0; round < kMostMarkingRounds; ++round) {
    auto const clash = first_clash(ppd, setup, reported);
    if (!clash) break;
    Setting const *one = ours(setup, clash->one.option), *other = ours(setup, clash->other.option);
    std::string const says = clash->line.empty() ? "" : "; the press's PPD says in " + clash->line;
    bool const finest = target.press.printer_resolution == kFinest;
    std::string const harmless = other || is_part(ppd.file, clash->other.option) ? "" : harmless_choice(ppd.file, clash->other.option);
    mark_all(ppd.file, setup);  // what was tried is undone
    if (!harmless.empty()) {
      ppd_add(ppd, setup, Topic::way_round, clash->other.option, harmless,
              "its default " + clash->other.choice + " excludes " + pair_words(clash->one) + says);
    } else if (finest && take_next_resolution(ppd, setup, *clash)) {
    } else if (!one) {
      break;  // the driver's own defaults are at odds: no choice of ours is in it
    } else if (gives_way(one->topic)) {
      give_way(setup, clash->one, clash->other, says);
    } else if (other && gives_way(other->topic)) {
      give_way(setup, clash->other, clash->one, says);
    } else if (other && matters(one->topic) && matters(other->topic)) {
      return Error{ErrorKind::hold, pair_words(clash->one) + " and " + pair_words(clash->other) + " exclude each other" + says +
                                        ": choose another of the two for this press"};
    } else {
      setup.report("press.conflict", Level::hold,
                   pair_words(clash->one) + " and " + pair_words(clash->other) + ", which the driver has by default, exclude each other" + says,
                   "nobody asked for another " + clash->other.option + ": name the right one under options in the press's table");
      reported.push_back(clash->one.option + "\n" + clash->other.option);
    }
    mark_all(ppd.file, setup);
  }
  if (auto same = compare(ppd.file, setup); !same) return same;
  return compare_numbers(ppd.file, setup);
}

}  // namespace layright
