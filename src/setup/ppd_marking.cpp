#include <algorithm>
#include <cstdlib>
#include <set>

#include "setup/ppd_library.h"

namespace layright {
namespace {

void mark_all(ppd_file_t* file, PressSetup const& setup) {
  ppdMarkDefaults(file);
  for (auto const& setting : setup.settings) ppdMarkOption(file, setting.option.c_str(), setting.choice.c_str());
}

struct Clash {
  std::string option, choice, other, other_choice;
};

/// The first of our settings that excludes something marked, with what it excludes.
std::optional<Clash> first_clash(ppd_file_t* file, PressSetup const& setup) {
  for (auto const& setting : setup.settings) {
    cups_option_t* others = nullptr;
    int const count = cupsGetConflicts(file, setting.option.c_str(), setting.choice.c_str(), &others);
    std::optional<Clash> found;
    for (int i = 0; i < count && !found; ++i)
      if (setting.option != others[i].name) found = Clash{setting.option, setting.choice, others[i].name, others[i].value};
    cupsFreeOptions(count, others);
    if (found) return found;
  }
  return std::nullopt;
}

Setting* ours(PressSetup& setup, std::string const& option) {
  auto const is_same = [&](Setting const& s) { return s.option == option || (s.option == "PageSize" && option == "PageRegion"); };
  auto const at = std::find_if(setup.settings.begin(), setup.settings.end(), is_same);
  return at == setup.settings.end() ? nullptr : &*at;
}

std::string pair_words(std::string const& option, std::string const& choice) { return option + "=" + choice; }

std::string quote(Ppd::Members const& ppd, Clash const& clash) {
  return ppd.lines.quote_constraint(clash.option, clash.choice, clash.other, clash.other_choice);
}

/// A choice of an option that nobody asked for which excludes nothing that is marked; empty when there is none.
std::string harmless_choice(ppd_file_t* file, std::string const& option) {
  ppd_option_t const* known = ppdFindOption(file, option.c_str());
  for (int i = 0; known && i < known->num_choices; ++i) {
    char const* choice = known->choices[i].choice;
    if (std::string_view(choice) == "Custom") continue;
    cups_option_t* others = nullptr;
    int const count = cupsGetConflicts(file, option.c_str(), choice, &others);
    cupsFreeOptions(count, others);
    if (count == 0) return choice;
  }
  return {};
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
      return Error{ErrorKind::hold, "asked for " + pair_words(setting.option, setting.choice) + ", libcups set " +
                                        (now ? pair_words(setting.option, now->choice) : "nothing") +
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
      return Error{ErrorKind::hold, std::string("the custom size's ") + name + " did not come out in the press's code as it was asked: ask for "
                                        "the size at the press, or use another driver"};
  }
  return done();
}

}  // namespace

Outcome ppd_mark(Ppd::Members& ppd, PressSetup& setup) {
  std::set<std::string> tried;
  mark_all(ppd.file, setup);
  while (auto clash = first_clash(ppd.file, setup)) {
    Setting const* other = ours(setup, clash->other);
    std::string const line = quote(ppd, *clash);
    Error const excluded{ErrorKind::hold, pair_words(clash->option, clash->choice) + " and " + pair_words(clash->other, clash->other_choice) +
                                              " exclude each other" + (line.empty() ? "" : "; the press's PPD says in " + line) +
                                              ": choose another of the two for this press"};
    std::string const harmless = other || !tried.insert(clash->other).second ? "" : harmless_choice(ppd.file, clash->other);
    if (harmless.empty()) return excluded;
    ppd_add(ppd, setup, Topic::way_round, clash->other, harmless,
            "its default " + clash->other_choice + " excludes " + pair_words(clash->option, clash->choice) + (line.empty() ? "" : " (" + line + ")"));
    mark_all(ppd.file, setup);
  }
  if (auto same = compare(ppd.file, setup); !same) return same;
  return compare_numbers(ppd.file, setup);
}

}  // namespace layright
