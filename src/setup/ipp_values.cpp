#include "setup/ipp_values.h"

#include <cups/ipp.h>

#include <algorithm>
#include <charconv>
#include <map>
#include <optional>

#include "base/in_quotes.h"

namespace layright {
namespace {

bool is_keyword(std::string const& text) {
  // RFC 8011, 5.1.4: lower-case letters, digits, hyphen, dot, underscore; begins with a lower-case letter.
  return !text.empty() && text[0] >= 'a' && text[0] <= 'z' && std::all_of(text.begin(), text.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-' || c == '.' || c == '_';
  });
}

bool take_number(std::string_view& rest, int& number) {
  auto const read = std::from_chars(rest.data(), rest.data() + rest.size(), number);
  if (read.ec != std::errc()) return false;
  rest.remove_prefix(static_cast<std::size_t>(read.ptr - rest.data()));
  return true;
}

std::optional<int> whole_number(std::string_view text) {
  int number = 0;
  return take_number(text, number) && text.empty() ? std::optional(number) : std::nullopt;
}

std::optional<IppResolution> resolution(std::string_view text) {
  IppResolution dots;
  if (!take_number(text, dots.across) || dots.across < 1) return std::nullopt;
  dots.along = dots.across;
  if (text.starts_with('x')) {
    text.remove_prefix(1);
    if (!take_number(text, dots.along) || dots.along < 1) return std::nullopt;
  }
  dots.metric = text == "dpcm";
  return text == "dpi" || text == "dpcm" ? std::optional(dots) : std::nullopt;
}

std::optional<IppRange> range(std::string_view text) {
  IppRange ends;
  if (!take_number(text, ends.from)) return std::nullopt;
  ends.to = ends.from;
  if (text.starts_with('-')) {
    text.remove_prefix(1);
    if (!take_number(text, ends.to)) return std::nullopt;
  }
  return text.empty() && ends.to >= ends.from ? std::optional(ends) : std::nullopt;
}

/// "staple" is 4 of finishings (RFC 8011, 5.2.6, and the IANA registrations, by libcups).
std::optional<int> enumeration(std::string const& attribute, std::string const& text) {
  if (auto const number = whole_number(text)) return number;
  int const value = ippEnumValue(attribute.c_str(), text.c_str());
  return value > 0 ? std::optional(value) : std::nullopt;
}

/// RFC 8011, 5.2, and PWG 5100.x, for a press that does not tell: what does not look like what it is.
std::string standard_syntax(std::string const& attribute) {
  static std::map<std::string, char const*> const known = {{"finishings", "enum"},
                                                           {"print-quality", "enum"},
                                                           {"orientation-requested", "enum"},
                                                           {"image-orientation", "enum"},
                                                           {"pages-per-subset", "integer"},
                                                           {"printer-resolution", "resolution"},
                                                           {"page-ranges", "rangeOfInteger"},
                                                           {"job-sheets", "keyword"},
                                                           {"number-up", "integer"},
                                                           {"copies", "integer"}};
  auto const found = known.find(attribute);
  return found == known.end() ? "" : found->second;
}

/// Of "copies-supported" a range is given, though a job asks for a number.
std::string syntax_of(std::string const& attribute, OfferedSyntaxes const& syntaxes) {
  if (auto const standard = standard_syntax(attribute); !standard.empty()) return standard;
  for (char const* ending : {"-default", "-supported"})
    if (auto const found = syntaxes.find(attribute + ending); found != syntaxes.end() && found->second != "no-value" && found->second != "unknown")
      return found->second == "rangeOfInteger" && std::string_view(ending) == "-supported" ? "integer" : found->second;
  return {};
}

std::optional<IppValue> one_value(std::string const& attribute, std::string const& text, std::string const& syntax) {
  auto const as_value = [](auto const& maybe) { return maybe ? std::optional<IppValue>(*maybe) : std::nullopt; };
  if (syntax == "enum") {
    auto const number = enumeration(attribute, text);
    return number ? std::optional<IppValue>(IppEnum{*number}) : std::nullopt;
  }
  if (syntax == "resolution") return as_value(resolution(text));
  if (syntax == "rangeOfInteger") return as_value(range(text));
  if (syntax == "integer") {
    if (auto const number = whole_number(text)) return as_value(number);
    return as_value(range(text));  // an integer | rangeOfInteger
  }
  if (syntax == "boolean") return text == "true" || text == "false" ? std::optional<IppValue>(text == "true") : std::nullopt;
  if (syntax == "keyword") return is_keyword(text) ? std::optional<IppValue>(IppKeyword{text}) : std::optional<IppValue>(IppName{text});
  if (syntax.starts_with("name") || syntax.starts_with("text")) return IppValue(IppName{text});
  if (auto const dots = resolution(text)) return IppValue(*dots);
  if (auto const number = whole_number(text)) return IppValue(*number);
  if (text == "true" || text == "false") return IppValue(text == "true");
  return is_keyword(text) ? IppValue(IppKeyword{text}) : IppValue(IppName{text});
}

}  // namespace

Result<IppValue> ipp_value(std::string const& attribute, std::string const& written, OfferedSyntaxes const& syntaxes) {
  std::string const syntax = syntax_of(attribute, syntaxes);
  auto const wrong = [&](std::string const& part) {
    return Error{ErrorKind::hold, attribute + " = " + in_quotes(part) + " in the press's table is no " + syntax +
                                      ", and that is what the press has for it (layright setup --list shows what it offers)"};
  };
  bool const a_list = written.find(',') != std::string::npos && !syntax.starts_with("name") && !syntax.starts_with("text");
  if (!a_list) {
    auto const value = one_value(attribute, written, syntax);
    return value ? Result<IppValue>(*value) : wrong(written);
  }
  IppSeveral several;
  for (std::size_t at = 0; at <= written.size();) {
    auto const end = std::min(written.find(',', at), written.size());
    auto part = written.substr(at, end - at);
    part.erase(0, std::min(part.find_first_not_of(' '), part.size()));
    auto const value = one_value(attribute, part, syntax);
    if (!value || part.empty()) return wrong(part);
    several.values.push_back({"", *value});
    at = end + 1;
  }
  // One attribute has one syntax; a list of mixed looks is one of names.
  bool const alike = std::all_of(several.values.begin(), several.values.end(),
                                 [&](IppMember const& m) { return m.value.index() == several.values.front().value.index(); });
  return alike ? Result<IppValue>(several) : Result<IppValue>(IppName{written});
}

}  // namespace layright
