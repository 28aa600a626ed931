#include "setup/setting.h"

#include <utility>

namespace layright {

std::string_view word(Topic topic) {
  switch (topic) {
    case Topic::size: return "page size";
    case Topic::tray: return "tray";
    case Topic::media: return "media type";
    case Topic::exit: return "exit";
    case Topic::sides: return "sides";
    case Topic::resolution: return "resolution";
    case Topic::quality: return "quality";
    case Topic::colour: return "colour";
    case Topic::intent: return "rendering intent";
    case Topic::white: return "white layer";
    case Topic::mirror: return "mirror printing";
    case Topic::size_check: return "size checking";
    case Topic::tray_switch: return "tray switching";
    case Topic::own: return "press option";
    case Topic::way_round: return "way round a conflict";
  }
  return "";
}

Setting const* PressSetup::about(Topic topic) const {
  for (auto const& setting : settings)
    if (setting.topic == topic) return &setting;
  return nullptr;
}

void PressSetup::report(char const* check, Level level, std::string const& what, std::string const& todo, std::optional<Topic> at_press) {
  std::string const message = what + (todo.empty() ? "" : ": " + todo);
  if (at_press) by_hand.push_back({*at_press, message, message});
  add_finding(findings, check, level, message);
}

void add_finding(std::vector<Finding>& findings, char const* check, Level level, std::string message) {
  Finding finding;
  finding.check = check;
  finding.level = level;
  finding.message = std::move(message);
  findings.push_back(std::move(finding));
}

std::string feed_words(Feed feed) { return feed == Feed::short_edge ? "short edge first" : "long edge first"; }

}  // namespace layright
