// The options that say which target is meant, and what they come to.
#pragma once
#include <optional>
#include <string>

#include "job/inspect.h"
#include "sheet/configuration.h"

namespace CLI {
class App;
}

namespace layright {

/// What the person wrote; empty where nothing was said.
struct TargetWords {
  std::string config, target, sheet, margin, feed, reading, white, unit;
};
struct PlacementWords {
  std::string scale, width, height, turn, by, at, offset;
  bool allow_outside = false;
};
struct ReadingWords {
  std::string incoming, letters;
  bool check_letters = false;
};
struct SelectionWords {
  std::vector<std::string> only, skip, accept;
  std::string pages, password_file;
};

void add_target_options(CLI::App& command, TargetWords& words);
void add_size_options(CLI::App& command, PlacementWords& words);
/// Those of the size, and where on the sheet.
void add_placement_options(CLI::App& command, PlacementWords& words);
void add_reading_options(CLI::App& command, ReadingWords& words);
void add_selection_options(CLI::App& command, SelectionWords& words);

/// Takes a word of the command line where somebody gave one.
template <class Parse, class T>
Outcome take_word(std::string const& text, char const* option, Parse parse, T& into) {
  if (text.empty()) return done();
  auto value = parse(text);
  if (!value) return usage_error(std::string(option) + ": " + value.error().message);
  into = *value;
  return done();
}

/// What to answer to the id of a check that is none, with the nearest that is one.
Error no_check_error(std::string const& option, std::string const& id);

/// The target that the words and the configuration come to.
struct ResolvedTarget {
  Configuration configuration;
  Target target;
  Unit unit = Unit::inch;
  bool reading_said = false;  // somebody said how the printed sheet must read: a target, or --reading
  std::string assumed;        // what was taken for granted, in a few words; empty where the person said it
};
/// The configuration that is meant: --config, else the one found from the working folder, else the defaults.
Result<Configuration> configuration_of(std::string const& config);
Result<ResolvedTarget> resolve_target(TargetWords const& words);
/// What to answer where nobody said how the printed sheet must read.
std::string reading_not_said(Configuration const& configuration);
Outcome resolve_placement(PlacementWords const& words, Target& target);
/// All of it: what check and lay go by.
Result<InspectOptions> resolve_options(ResolvedTarget const& resolved, PlacementWords const& placement, ReadingWords const& reading,
                                       SelectionWords const& selection);

}  // namespace layright
