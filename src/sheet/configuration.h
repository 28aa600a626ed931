// layright.toml: sheets, presses, targets and intakes, read once and checked whole.
#pragma once
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "geometry/length.h"
#include "sheet/target.h"

namespace layright {

/// A watched folder and where its files go. Paths are absolute or count from the configuration's own folder (already resolved
/// here).
struct IntakeRule {
  std::string match;   // a shell pattern over the file's name
  std::string target;  // empty: the intake's own
  std::optional<int> copies;
  std::optional<White> white;  // how much is laid where the press lays white; else as the target says
  std::optional<bool> gang;    // whether its files wait for others to share a sheet; else as the target says
};
struct Intake {
  std::string name, target;
  std::filesystem::path in, ready, held, originals, ledger;
  // The rest, as written and checked: poll, settle ("2s"), duplicates (hold, again, skip), tries ("2"), keep-originals ("90d"),
  // subfolders, send, job-sheet, customers-door ("true", "false"), partial (patterns, one a line). Absent: not said.
  std::map<std::string, std::string> settings;
  std::vector<IntakeRule> rules;
};

struct Configuration {
  std::filesystem::path path;  // empty: none was found, all is default
  Unit unit = Unit::inch;
  bool partial_sandbox = false;                // sandbox = "as far as the kernel goes": customers' files are read though a part of it is missing
  std::string user;                            // whom `watch` becomes where root starts it; empty: nobody else
  Limits limits;                               // [limits]: of targets that do not say otherwise, and where no target is named
  std::vector<std::string> letters = {"eng"};  // [reading] letters: likewise
  std::map<std::string, Sheet> sheets;         // with the two that are known from the start
  std::map<std::string, Press> presses;
  std::map<std::string, CheckProfile> profiles;  // [checks.NAME]
  std::map<std::string, Target> targets;         // sheet and press filled in
  std::map<std::string, Intake> intakes;
};

/// Where a configuration is looked for: `layright.toml` in `start` or a folder above it, else layright/layright.toml in the
/// user's XDG configuration folder ($XDG_CONFIG_HOME, else $HOME/.config). Nothing when there is none.
std::optional<std::filesystem::path> find_configuration(std::filesystem::path const& start);

/// Where the user's own lies, whether it is there or not; nothing where neither of the two variables tells a folder.
std::optional<std::filesystem::path> user_configuration();

/// With what trial sheets told of its presses (sheet/trial.h). Error (usage) names file, line, column, what was expected and the nearest
/// known key or name; no_input when it cannot be read; data when the file of trials is not as it should be.
Result<Configuration> load_configuration(std::filesystem::path const& path);
/// The same from text, without trials; `path` is for messages and for resolving relative paths.
Result<Configuration> parse_configuration(std::string_view text, std::filesystem::path const& path);
/// The two sheets of common practice, no press, no target.
Configuration default_configuration();

/// The sheet of that name, else a sheet of the size that the word tells (sizes.h), with the usual margins and short edge first.
/// Error (usage) names the nearest known sheet.
Result<Sheet> find_sheet(Configuration const& configuration, std::string_view word);

/// A commented layright.toml to start from; parse_configuration takes it without error.
std::string starting_configuration();

}  // namespace layright
