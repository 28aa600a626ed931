// One thing that a press is told, in whatever language its queue speaks.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "check/finding.h"
#include "sheet/sheet.h"

namespace layright {

/// What a setting is about, in the order in which people go through a print dialog.
enum class Topic {
  size, tray, media, exit, sides, resolution, quality, colour, intent, white, mirror, size_check, tray_switch, own, way_round,
};
/// "page size", "tray", "media type", …
std::string_view word(Topic);

struct Setting {
  Topic topic = Topic::own;
  std::string option, choice;              // as the press calls them
  std::string option_label, choice_label;  // what its dialog shows, or empty
  std::string why;                         // in plain words
};

/// A setup in the press's own words, and what there is to say about it. A finding of level hold is for a person before a sheet is
/// sent; it does not make the setup worthless.
struct PressSetup {
  std::vector<Setting> settings;
  std::vector<Finding> findings;

  /// The setting of a topic, or null.
  Setting const* about(Topic topic) const;
};

/// "short edge first".
std::string feed_words(Feed feed);

}  // namespace layright
