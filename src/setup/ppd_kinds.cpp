// Which of a PPD's options is about what: by its keyword, its label and the English one of its translation tables, and by what its choices do.
// The words are those of the PPD specification 4.3, of IPP, and plain names in six languages (counted over Debian's packaged PPDs).
#include <algorithm>
#include <array>
#include <initializer_list>

#include "setup/ppd_library.h"

namespace layright {
namespace {

using Words = std::initializer_list<std::string_view>;

bool holds_one(std::string const& name, Words words) {
  return std::any_of(words.begin(), words.end(), [&](auto word) { return name.find(word) != std::string::npos; });
}
bool is_one(std::string const& name, Words words) { return std::find(words.begin(), words.end(), name) != words.end(); }
bool ends_with_one(std::string const& name, Words words) {
  return std::any_of(words.begin(), words.end(), [&](auto word) { return name.ends_with(word); });
}

/// The keyword and the labels of an option, as plain words.
struct Names {
  std::string keyword;
  std::vector<std::string> labels;
  bool label_is(Words words) const {
    return std::any_of(labels.begin(), labels.end(), [&](auto const& l) { return is_one(l, words); });
  }
  bool holds(Words words) const {
    return holds_one(keyword, words) || std::any_of(labels.begin(), labels.end(), [&](auto const& l) { return holds_one(l, words); });
  }
};

/// What the PPD's translation tables call a choice, or with "Translation" an option, in English.
std::string english(Ppd::Members const& ppd, std::string const& keyword, char const* spec) {
  auto const found = ppd.english.find(keyword + " " + spec);
  return found == ppd.english.end() ? std::string() : found->second;
}

Names names_of(Ppd::Members const& ppd, ppd_option_t const* option) {
  return {plain_word(option->keyword), {plain_word(option->text), plain_word(english(ppd, "Translation", option->keyword))}};
}

/// Covers, banners and the like have trays and papers of their own, and separations colours.
bool is_about_something_else(Names const& names) {
  return names.holds({"banner",  "cover",  "separat",   "slipsheet", "interleav", "insert",  "chapter", "watermark",
                      "overlay", "stamp",  "firstpage", "lastpage",  "exception", "divider", "scan",    "backside",
                      "fold",    "staple", "punch",     "bind",      "booklet",   "trim"}) ||
         names.keyword.starts_with("fax");
}

bool any_choice(Ppd::Members const& ppd, ppd_option_t const* option, Words words) {
  for (int i = 0; i < option->num_choices; ++i)
    for (auto const& name : ppd_choice_names(ppd, option, option->choices[i]))
      if (holds_one(name, words)) return true;
  return false;
}

bool any_code(ppd_option_t const* option, std::string_view code) {
  return std::any_of(option->choices, option->choices + option->num_choices,
                     [&](ppd_choice_t const& c) { return c.code && std::string_view(c.code).find(code) != std::string_view::npos; });
}

bool is_yes_or_no(ppd_option_t const* option) { return ppd_no(option) && ppd_yes(option); }

int rate_sides(Ppd::Members const& ppd, ppd_option_t const* option, Names const& names) {
  // A duplex unit that may be fitted is no choice of sides: its choices turn nothing over.
  bool const turns = any_code(option, "/Duplex true") ||
                     any_choice(ppd, option, {"tumble", "longedge", "shortedge", "longside", "shortside", "flip", "twosided", "2sided", "book"});
  if (!turns) return 0;
  if (names.keyword == "duplex") return 5;
  if (names.keyword.ends_with("duplex")) return 4;
  return names.holds({"duplex", "twosided", "2sided", "doublesided", "bothsides"}) ? 3 : 0;
}

int rate_resolution(ppd_option_t const* option, Names const& names) {
  if (names.holds({"enhance", "smooth", "scan"})) return 0;
  if (names.keyword.ends_with("resolution")) return 5;
  if (names.keyword.ends_with("dpi") || names.label_is({"resolution", "printresolution", "outputresolution", "printerresolution"})) return 4;
  // Whatever it is called, it chooses among resolutions.
  std::vector<Dots> different;
  for (int i = 0; i < option->num_choices; ++i)
    if (auto const dots = dots_in_code(option->choices[i].code ? option->choices[i].code : "");
        dots.across && std::find(different.begin(), different.end(), dots) == different.end())
      different.push_back(dots);
  return different.size() > 1 ? 3 : 0;
}

/// Four inks or none of them, in whatever tongue it is labelled: "None", "CMYK", "CMYK8".
bool is_cmyk_or_none(ppd_option_t const* option) {
  ppd_choice_t const *const begin = option->choices, *const end = begin + option->num_choices;
  auto const is_cmyk = [](ppd_choice_t const& c) { return plain_word(c.choice).starts_with("cmyk"); };
  auto const is_none = [](ppd_choice_t const& c) { return plain_word(c.choice) == "none"; };
  return std::any_of(begin, end, is_cmyk) && std::any_of(begin, end, is_none) &&
         std::all_of(begin, end, [&](ppd_choice_t const& c) { return is_cmyk(c) || is_none(c); });
}

int rate_colour(Ppd::Members const& ppd, ppd_option_t const* option, Names const& names) {
  // "Separation colour model": how a job is taken apart, on a press that prints black alone.
  if (!ppd.file->color_device && any_code(option, "/ProcessColorModel")) return 0;
  if (is_cmyk_or_none(option)) return 3;
  // What cannot print grey chooses between colours, not whether there are any.
  if (!is_yes_or_no(option) && !any_choice(ppd, option, {"gray", "grey", "mono", "black"})) return names.keyword == "colormodel" ? 1 : 0;
  if (is_one(names.keyword, {"colormodel", "colormode", "selectcolor", "printcolormode"})) return 5;
  if (ends_with_one(names.keyword, {"colormodel", "colormode", "colourmode", "outputcolor", "monocolor"})) return 4;
  if (names.label_is({"colormode", "colourmode", "colormodel", "colourmodel", "outputcolor", "outputcolour", "printcolor", "printcolour", "color",
                      "colour", "colormono", "coloration"}))
    return 3;
  bool const grey =
      names.holds({"asgray", "asgrey", "ingray", "ingrey", "blackwhite", "blackandwhite", "monochromemode", "printmonochrome", "forcegray"});
  return grey && is_yes_or_no(option) ? 2 : 0;
}

int rate(Ppd::Members const& ppd, ppd_option_t const* option, Topic topic) {
  auto const names = names_of(ppd, option);
  if (is_about_something_else(names)) return 0;
  switch (topic) {
    case Topic::tray:
      if (names.keyword == "inputslot") return 5;
      if (ends_with_one(names.keyword, {"inputslot", "mediasource", "papersource", "inputtray"})) return 4;
      return names.label_is({"papersource", "mediasource", "papertray", "inputtray", "inputslot", "feeder", "paperfeed", "papierquelle",
                             "papierzufuhr", "papiereinzug", "sourcedepapier", "alimentationpapier", "fuentedepapel", "origendelpapel",
                             "alimentazionecarta", "originecarta", "origemdopapel"})
                 ? 3
                 : 0;
    case Topic::media:
      if (names.keyword == "mediatype") return 5;
      if (ends_with_one(names.keyword, {"mediatype", "papertype"})) return 4;
      return names.label_is({"mediatype", "papertype", "typeofpaper", "papiertyp", "papierart", "medientyp", "typedepapier", "typedesupport",
                             "tipodepapel", "tipodemedio", "tipodicarta", "tipodisupporto", "tipocarta", "tipodemidia"})
                 ? 3
                 : 0;
    case Topic::exit:
      if (names.keyword == "outputbin") return 5;
      if (names.holds({"faceup"}) && is_yes_or_no(option)) return 2;
      if (ends_with_one(names.keyword, {"outputbin", "outputtray", "outbin"})) return 4;
      if (names.label_is(
              {"outputbin", "outputtray", "outputdestination", "destination", "paperoutput", "outputlocation", "papierausgabe", "ausgabefach"}))
        return 3;
      return any_choice(ppd, option, {"faceup", "nachoben"}) ? 1 : 0;
    case Topic::sides: return rate_sides(ppd, option, names);
    case Topic::resolution: return rate_resolution(option, names);
    case Topic::quality:
      // "600BestColor" sets much more than a quality.
      if (std::any_of(option->choices, option->choices + option->num_choices,
                      [](ppd_choice_t const& c) { return c.choice[0] >= '0' && c.choice[0] <= '9'; }))
        return 0;
      if (is_one(names.keyword, {"cupsprintquality", "printquality"})) return 5;
      if (is_one(names.keyword, {"printoutmode", "outputmode", "quality"}) || names.keyword.ends_with("printquality")) return 4;
      return names.label_is({"printquality", "outputquality", "printoutquality"}) ? 3 : 0;
    case Topic::colour: return rate_colour(ppd, option, names);
    case Topic::intent:
      if (is_yes_or_no(option)) return 0;
      if (names.holds({"intent"})) return names.holds({"text", "image", "graphic", "photo"}) ? 1 : 5;
      return any_choice(ppd, option, {"colorimetric", "perceptual"}) ? 3 : 0;
    case Topic::mirror: return names.holds({"mirror"}) && option->num_choices > 1 ? 5 : 0;
    case Topic::size_check:
      return names.holds({"sizecheck", "checksize", "papercheck", "mediacheck", "sizestop", "sizemismatch", "papermismatch"}) && ppd_no(option) ? 5
                                                                                                                                                : 0;
    case Topic::tray_switch:
      if (any_code(option, "/TraySwitch") && is_yes_or_no(option)) return 5;
      return names.holds({"trayswitch", "tswitch", "autocascade", "traychange", "anothertray", "autoswitch", "cassetteswitch"}) && ppd_no(option) ? 4
                                                                                                                                                  : 0;
    default: return 0;
  }
}

/// A part that the press may or may not have.
bool is_part(ppd_group_t const& group) { return std::string_view(group.name) == "InstallableOptions"; }

void collect(Ppd::Members const& ppd, ppd_group_t& group, Topic topic, std::vector<std::pair<int, ppd_option_t*>>& into) {
  if (is_part(group)) return;
  for (int i = 0; i < group.num_options; ++i)
    if (int const rating = rate(ppd, &group.options[i], topic); rating > 0 && group.options[i].num_choices > 0)
      into.emplace_back(rating, &group.options[i]);
  for (int i = 0; i < group.num_subgroups; ++i) collect(ppd, group.subgroups[i], topic, into);
}

ppd_choice_t const* first_of(ppd_option_t const* option, Words words) {
  for (int i = 0; i < option->num_choices; ++i)
    for (auto const& name : {plain_word(option->choices[i].choice), plain_word(option->choices[i].text)})
      if (is_one(name, words)) return &option->choices[i];
  return nullptr;
}

}  // namespace

std::vector<ppd_option_t*> ppd_options_about(Ppd::Members const& ppd, Topic topic) {
  std::vector<std::pair<int, ppd_option_t*>> rated;
  for (int i = 0; i < ppd.file->num_groups; ++i) collect(ppd, ppd.file->groups[i], topic, rated);
  std::stable_sort(rated.begin(), rated.end(), [](auto const& a, auto const& b) { return a.first > b.first; });
  std::vector<ppd_option_t*> options;
  for (auto const& [rating, option] : rated) options.push_back(option);
  return options;
}

std::vector<std::string> ppd_choice_names(Ppd::Members const& ppd, ppd_option_t const* option, ppd_choice_t const& choice) {
  std::vector<std::string> names{plain_word(choice.choice), plain_word(choice.text)};
  if (auto const label = english(ppd, option->keyword, choice.choice); !label.empty()) names.push_back(plain_word(label));
  return names;
}

ppd_choice_t const* ppd_no(ppd_option_t const* option) { return first_of(option, {"false", "off", "no", "falsem", "disabled", "disable", "none"}); }
ppd_choice_t const* ppd_yes(ppd_option_t const* option) { return first_of(option, {"true", "on", "yes", "truem", "enabled", "enable"}); }

}  // namespace layright
