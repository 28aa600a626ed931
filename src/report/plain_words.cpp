#include "report/plain_words.h"

#include <array>
#include <string_view>
#include <utility>

namespace layright {
namespace {

using std::string_view;

/// Where leaving the option out would leave a sentence without its sense. The longer of two that begin alike goes first.
constexpr std::array<std::pair<string_view, string_view>, 14> kPhrases{{
    {"Look: --incoming right, or wrong if mirrored", "Look at the letters"},
    {"look at it and say --incoming right or --incoming wrong", "look at it"},
    {"look at the page, then say --incoming as it is, or accept it with --accept reading.conflict", "look at the page"},
    {", but --incoming says ", ", but somebody said "},
    {"; say so with --incoming right or --incoming wrong", "; look at it"},
    {"Try --scale shrink, or part it", "Shrink it, or part it"},
    {"Try --scale shrink", "Shrink it"},
    {"give its size with --width or --height, or pixels-per-inch in the target", "say how wide it is to be"},
    {", for instance --width ", ", for instance "},
    {", at the scale that --scale says", ""},
    {"give its password with --password-file, or ask", "ask"},
    {"--pages takes some", "Ask which pages are"},
    {"`lay`", "layright"},
    {" (`layright tile`)", ""},
}};

void replace_all(std::string& text, string_view what, string_view with) {
  for (auto at = text.find(what); at != std::string::npos; at = text.find(what, at + with.size())) text.replace(at, what.size(), with);
}

/// A full stop ends a sentence; the one in a name or a number does not.
bool ends_clause(std::string const& text, std::size_t at) {
  if (text[at] == ';') return true;
  return text[at] == '.' && (at + 1 == text.size() || text[at + 1] == ' ');
}

/// From its separator, which goes with it.
std::size_t begin_of_clause(std::string const& text, std::size_t option) {
  constexpr std::array<string_view, 7> kBefore{", or ", "; ", ": ", ". ", ", then ", " or accept", ", and "};
  std::size_t begin = 0;
  for (auto const before : kBefore)
    if (auto const at = text.rfind(before, option); at != std::string::npos && at > begin) begin = at;
  if (text.compare(begin, 2, ". ") == 0) return begin + 1;
  return begin > 0 && text[begin - 1] == ',' ? begin - 1 : begin;
}

void leave_out_brackets(std::string& text) {
  for (auto open = text.find('('); open != std::string::npos; open = text.find('(', open + 1)) {
    auto const close = text.find(')', open);
    if (close == std::string::npos) return;
    if (text.substr(open, close - open).find("--") == std::string::npos) continue;
    bool const spaced = open > 0 && text[open - 1] == ' ';
    text.erase(open - (spaced ? 1 : 0), close + 1 - open + (spaced ? 1 : 0));
    open = 0;
  }
}

}  // namespace

std::string plain_words(std::string text) {
  for (auto const& [what, with] : kPhrases) replace_all(text, what, with);
  leave_out_brackets(text);
  for (auto option = text.find("--"); option != std::string::npos; option = text.find("--")) {
    auto const begin = begin_of_clause(text, option);
    auto end = option;
    while (end < text.size() && !ends_clause(text, end)) ++end;
    bool const sentence = begin == 0 || text[begin] == ' ';
    if (sentence && end < text.size()) ++end;  // with what ends it
    text.erase(begin, end - begin);
    while (!text.empty() && text.front() == ' ') text.erase(0, 1);
  }
  std::erase(text, '`');
  return text;
}

}  // namespace layright
