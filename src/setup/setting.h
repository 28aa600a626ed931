// One thing that a press is told, in whatever language its queue speaks.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "check/finding.h"
#include "sheet/sheet.h"

namespace layright {

/// What a setting is about, in the order in which people go through a print dialog.
enum class Topic {
  size,
  tray,
  media,
  exit,
  sides,
  resolution,
  quality,
  colour,
  intent,
  white,
  mirror,
  size_check,
  tray_switch,
  own,
  way_round,
};
/// "page size", "tray", "media type", …
std::string_view word(Topic);

struct Setting {
  Topic topic = Topic::own;
  std::string option, choice;              // as the press calls them
  std::string option_label, choice_label;  // what its dialog shows, or empty
  std::string why;                         // in plain words
};

/// What a person sets at the press, because its driver cannot be told.
struct ByHand {
  Topic topic;
  std::string text;      // one or two sentences
  std::string reported;  // the message of the finding that says so as well
};

/// A setup in the press's own words, and what there is to say about it. A finding of level hold is for a person before a sheet is
/// sent; it does not make the setup worthless.
struct PressSetup {
  std::vector<Setting> settings;
  std::vector<Finding> findings;
  std::vector<ByHand> by_hand;

  /// Adds a finding: `what` is the matter, `todo` what to do about it. With `at_press` a person does it at the press, and it is among by_hand too.
  void report(char const* check, Level level, std::string const& what, std::string const& todo, std::optional<Topic> at_press = std::nullopt);
  /// The setting of a topic, or null.
  Setting const* about(Topic topic) const;
};

/// Adds a finding that has no place on the page.
void add_finding(std::vector<Finding>& findings, char const* check, Level level, std::string message);

/// "short edge first".
std::string feed_words(Feed feed);

}  // namespace layright
