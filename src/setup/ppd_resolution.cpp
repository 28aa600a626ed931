// Resolutions by what a choice's code sets, not by what it is called: "1200 dpi equivalent" is none of 1200.
#include <algorithm>
#include <charconv>

#include "setup/ppd_library.h"

namespace layright {
namespace {

/// A number at `at`, passing over what stands before it; moves behind it. 0 where none follows.
int next_number(std::string_view text, std::size_t& at) {
  while (at < text.size() &&
         (text[at] == ' ' || text[at] == '[' || text[at] == '{' || text[at] == '=' || text[at] == '\t' || text[at] == '\n' || text[at] == '\r'))
    ++at;
  int value = 0;
  auto const read = std::from_chars(text.data() + at, text.data() + text.size(), value);
  if (read.ec != std::errc() || value <= 0) return 0;
  at = static_cast<std::size_t>(read.ptr - text.data());
  if (at < text.size() && text[at] == '.')  // "600.0"
    for (++at; at < text.size() && text[at] >= '0' && text[at] <= '9';) ++at;
  return value;
}

constexpr int kLeastOfPair = 100;

/// "1200 x 600 dpi", "2400dpi": the first number before "dpi" in a label, or a pair such as "(600x1200)".
Dots dots_in_label(std::string_view label) {
  for (std::size_t at = 0; at < label.size(); ++at) {
    if (label[at] < '0' || label[at] > '9') continue;
    std::size_t end = at;
    Dots dots{next_number(label, end), 0};
    dots.along = dots.across;
    while (end < label.size() && (label[end] == ' ' || label[end] == 'x' || label[end] == 'X')) ++end;
    bool const two = end < label.size() && label[end] >= '0' && label[end] <= '9';
    if (two) dots.along = next_number(label, end);
    while (end < label.size() && label[end] == ' ') ++end;
    auto unit = plain_word(label.substr(end, 3));
    bool const pair = two && dots.across >= kLeastOfPair && dots.along >= kLeastOfPair;
    if ((unit == "dpi" || pair) && dots.across > 0 && dots.along > 0) return dots;
    at = end > at ? end - 1 : at;
  }
  return {};
}

/// Words by which makers call fewer dots with more tones, or faster ones.
bool is_soft(Ppd::Members const& ppd, ppd_option_t const* option, ppd_choice_t const& choice) {
  for (auto const& name : ppd_choice_names(ppd, option, choice)) {
    for (std::string_view const word : {"equiv", "speed", "fast", "rapid", "schnell", "veloce", "econo", "draft", "class", "interpol", "enhanced",
                                        "imageret", "colorquality", "colourquality", "imagequality"})
      if (name.find(word) != std::string::npos) return true;
    for (auto at = name.find("quality"); at != std::string::npos && at > 0; at = name.find("quality", at + 1))
      if (name[at - 1] >= '0' && name[at - 1] <= '9') return true;  // "2400 Quality"
  }
  return false;
}

double area(Dots const& dots) { return 1.0 * dots.across * dots.along; }

}  // namespace

Dots dots_in_code(std::string_view code) {
  if (auto at = code.find("/HWResolution"); at != std::string_view::npos) {
    at += std::string_view("/HWResolution").size();
    Dots dots{next_number(code, at), 0};
    dots.along = next_number(code, at);
    return dots.across > 0 && dots.along > 0 ? dots : Dots{};
  }
  for (std::string_view const key : {"SET RESOLUTION", "set resolution"})
    if (auto at = code.find(key); at != std::string_view::npos) {
      at += key.size();
      int const dots = next_number(code, at);
      return {dots, dots};
    }
  return {};
}

std::vector<PpdResolution> ppd_resolutions(Ppd::Members const& ppd) {
  std::vector<PpdResolution> all;
  for (ppd_option_t* option : ppd_options_about(ppd, Topic::resolution)) {
    for (int i = 0; i < option->num_choices; ++i) {
      ppd_choice_t const& choice = option->choices[i];
      bool const soft = is_soft(ppd, option, choice);
      auto dots = dots_in_code(choice.code ? choice.code : "");
      if (!dots.across) {
        dots = parse_resolution(choice.choice);
        if (!dots.across) dots = dots_in_label(choice.text);
        if (soft) dots = {dots.across / 2, dots.along / 2};  // what it equals, it does not have
      }
      if (dots.across) all.push_back({option, &choice, dots, !soft});
    }
  }
  std::stable_sort(all.begin(), all.end(),
                   [](auto const& a, auto const& b) { return area(a.dots) != area(b.dots) ? area(a.dots) > area(b.dots) : a.plain > b.plain; });
  return all;
}

}  // namespace layright
