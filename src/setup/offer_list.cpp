#include "setup/offer_list.h"

#include <algorithm>
#include <array>
#include <set>

namespace layright {
namespace {

constexpr std::string_view kSupported = "-supported";

/// What a job may always be asked about, for printers that do not list it (RFC 8011, 5.2; PWG 5100.7; PWG 5100.13).
constexpr std::array kJobAttributes{"copies",        "media",
                                    "media-source",  "media-type",
                                    "output-bin",    "print-color-mode",
                                    "print-quality", "print-rendering-intent",
                                    "print-scaling", "printer-resolution",
                                    "sides"};

std::vector<std::string> values(Offer const& offer, std::string const& name) {
  auto const found = offer.attributes.find(name);
  return found == offer.attributes.end() ? std::vector<std::string>() : found->second;
}

std::set<std::string> job_attributes(Offer const& offer) {
  std::set<std::string> names(kJobAttributes.begin(), kJobAttributes.end());
  for (auto const* list : {"job-creation-attributes-supported", "media-col-supported"})
    for (auto const& name : values(offer, list)) names.insert(name);
  return names;
}

/// As people say it: on the line print-quality is a number (RFC 8011, 5.2.13), and margins are in 1/100 mm (PWG 5100.7).
std::string as_reported(std::string const& attribute, std::string const& value, Unit unit) {
  bool const number = !value.empty() && value.size() < 9 && value.find_first_not_of("0123456789") == std::string::npos;
  if (attribute.ends_with("-margin") && number) return format_length(Length::millimetres(std::stoi(value) / 100.0), unit);
  if (attribute != "print-quality") return value;
  return value == "3" ? "draft" : value == "4" ? "normal" : value == "5" ? "high" : value;
}

std::string size_line(OfferedSize const& s, Unit unit) {
  auto const size = [unit](int x, int y) { return format_size(Length::millimetres(x / 100.0), Length::millimetres(y / 100.0), unit); };
  bool const fixed = s.min_x == s.max_x && s.min_y == s.max_y;
  return "size (across the feed x along it): " + size(s.min_x, s.min_y) + (fixed ? "" : " to " + size(s.max_x, s.max_y)) + "\n";
}

}  // namespace

std::string offer_list(Offer const& offer, Unit unit) {
  std::string text;
  std::set<std::string> reported;  // a printer may list a size once a tray
  auto const report = [&](std::string const& line) {
    if (reported.insert(line).second) text += line;
  };
  for (auto const& size : offer.sizes) report(size_line(size, unit));
  for (auto const* all : {&offer.database, &offer.ready})
    for (auto const& media : *all)
      if (media.size.max_x > 0) report(size_line(media.size, unit));
  for (auto const* all : {&offer.database, &offer.ready})
    for (auto const& media : *all)
      if (!media.source.empty() && !media.feed_direction.empty()) report("tray " + media.source + ": " + media.feed_direction + "\n");
  auto const names = job_attributes(offer);
  for (auto const& [name, choices] : offer.attributes) {
    if (!name.ends_with(kSupported) || choices.empty()) continue;
    auto const attribute = name.substr(0, name.size() - kSupported.size());
    if (!names.contains(attribute)) continue;
    auto const defaults = values(offer, attribute + "-default");
    text += attribute + ":";
    for (auto const& choice : choices) {
      bool const is_default = std::find(defaults.begin(), defaults.end(), choice) != defaults.end();
      text += std::string(" ") + (is_default ? "*" : "") + as_reported(attribute, choice, unit) + ";";
    }
    text.back() = '\n';
  }
  return text;
}

}  // namespace layright
