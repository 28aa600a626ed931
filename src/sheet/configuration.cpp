#include "sheet/configuration.h"

#include <algorithm>
#include <cstdlib>

#include "base/in_quotes.h"
#include "sheet/read_tables.h"
#include "sheet/sizes.h"
#include "sheet/toml_text.h"

namespace layright {

namespace {

namespace fs = std::filesystem;

constexpr char const* kFileName = "layright.toml";
constexpr int kVersion = 1;

bool is_file(fs::path const& path) {
  std::error_code error;
  return fs::is_regular_file(path, error);
}

/// XDG Base Directory Specification: a path that is not absolute is ignored.
std::optional<fs::path> user_configuration_folder() {
  if (char const* const xdg = std::getenv("XDG_CONFIG_HOME"); xdg && fs::path(xdg).is_absolute()) return fs::path(xdg);
  if (char const* const home = std::getenv("HOME"); home && fs::path(home).is_absolute()) return fs::path(home) / ".config";
  return std::nullopt;
}

/// Whether the sandbox may be partial.
Result<bool> parse_sandbox(std::string_view text) {
  if (text == "whole") return false;
  if (text == "as far as the kernel goes") return true;
  return usage_error("expected \"whole\" or \"as far as the kernel goes\", but found " + in_quotes(text));
}

Setter sheets_setter(TomlReader const& reader, Configuration& into) {
  return [&](Entry const& all) {
    return reader.each(all, [&](std::string const& name, Entry const& entry) -> Outcome {
      bool const known = into.sheets.contains(name);
      Sheet sheet = known ? into.sheets.at(name) : Sheet{};
      sheet.name = name;
      if (auto const read = read_sheet(reader, entry, into.unit, known, sheet); !read) return read;
      into.sheets[name] = std::move(sheet);
      return done();
    });
  };
}

Setter presses_setter(TomlReader const& reader, Configuration& into) {
  return [&](Entry const& all) {
    return reader.each(all, [&](std::string const& name, Entry const& entry) -> Outcome {
      Press press;
      press.name = name;
      if (auto const read = read_press(reader, entry, press); !read) return read;
      into.presses[name] = std::move(press);
      return done();
    });
  };
}

Setter targets_setter(TomlReader const& reader, Configuration& into) {
  return [&](Entry const& all) {
    return reader.each(all, [&](std::string const& name, Entry const& entry) -> Outcome {
      Target target;
      target.name = name;
      target.limits = into.limits;
      target.letters = into.letters;
      if (auto const read = read_target(reader, entry, into, target); !read) return read;
      into.targets[name] = std::move(target);
      return done();
    });
  };
}

Setter intakes_setter(TomlReader const& reader, Configuration& into) {
  return [&](Entry const& all) {
    return reader.each(all, [&](std::string const& name, Entry const& entry) -> Outcome {
      Intake intake;
      intake.name = name;
      if (auto const read = read_intake(reader, entry, into, intake); !read) return read;
      into.intakes[name] = std::move(intake);
      return done();
    });
  };
}

Error no_such_sheet(Configuration const& configuration, std::string_view word, Error const& no_size) {
  auto const sheets = names_of(configuration.sheets);
  auto known = sheets;
  for (auto const& named : named_sizes()) known.emplace_back(named.name);
  auto const nearest = nearest_name(word, known);
  auto const start = "there is no sheet or size " + in_quotes(word);
  if (!nearest.empty()) return usage_error(start + "; did you mean " + in_quotes(nearest) + "?");
  bool const meant_as_size = word.empty() || word.find_first_of("0123456789.+-") == 0 || word.find('_') != std::string_view::npos;
  return meant_as_size ? no_size : usage_error(start + hint(word, sheets));
}

/// Each press with what its trial sheet told, also where a target has it.
Outcome add_trials(Configuration& configuration) {
  auto const trials = read_trials(configuration.path);
  if (!trials) return trials.error();
  auto const add = [&](Press& press) {
    if (auto const found = trials->find(press.name); found != trials->end()) press.trial = found->second;
  };
  for (auto& [name, press] : configuration.presses) add(press);
  for (auto& [name, target] : configuration.targets) add(target.press);
  return done();
}

}  // namespace

std::optional<fs::path> find_configuration(fs::path const& start) {
  auto folder = absolute_path(start);
  for (;; folder = folder.parent_path()) {
    if (is_file(folder / kFileName)) return folder / kFileName;
    if (folder == folder.parent_path()) break;
  }
  auto const user = user_configuration();
  return user && is_file(*user) ? user : std::nullopt;
}

std::optional<fs::path> user_configuration() {
  auto const folder = user_configuration_folder();
  return folder ? std::optional(*folder / "layright" / kFileName) : std::nullopt;
}

Result<Configuration> load_configuration(fs::path const& path) {
  auto const text = load_toml_text(path, "configuration");
  if (!text) return text.error();
  auto configuration = parse_configuration(*text, path);
  if (!configuration) return configuration;
  if (auto const added = add_trials(*configuration); !added) return added.error();
  return configuration;
}

Result<Configuration> parse_configuration(std::string_view text, fs::path const& path) {
  auto configuration = default_configuration();
  configuration.path = absolute_path(path);
  auto const parsed = parse_toml_text(text, configuration.path, "configuration");
  if (!parsed) return parsed.error();
  TomlReader const reader(configuration.path);
  int version = kVersion;
  auto const read_only = [&](Entry const& entry) { return reader.table(entry, {{"letters", letters_setter(reader, configuration.letters)}}); };
  // In this order: each may name what comes before it.
  auto const read = reader.table(
      {*parsed, ""}, {{"version", reader.whole(version, kVersion, kVersion)},
                      {"unit", reader.parsed(configuration.unit, parse_unit, "\"in\", \"mm\" or \"pt\"")},
                      {"sandbox", reader.parsed(configuration.partial_sandbox, parse_sandbox, "\"whole\" or \"as far as the kernel goes\"")},
                      {"user", reader.text(configuration.user, "the name of a user in quotes")},
                      {"limits", limits_setter(reader, configuration.limits)},
                      {"reading", read_only},
                      {"sheet", sheets_setter(reader, configuration)},
                      {"press", presses_setter(reader, configuration)},
                      {"checks", profiles_setter(reader, configuration)},
                      {"target", targets_setter(reader, configuration)},
                      {"intake", intakes_setter(reader, configuration)}});
  if (!read) return read.error();
  return configuration;
}

Configuration default_configuration() {
  Configuration configuration;
  // The two film sizes: common practice, no published source.
  Sheet narrow, wide;
  narrow.name = "narrow-film";
  narrow.width = Length::inches(8.5);
  narrow.length = Length::inches(17);
  wide.name = "wide-film";
  wide.width = Length::inches(12.5);
  wide.length = Length::inches(19);
  configuration.sheets = {{narrow.name, narrow}, {wide.name, wide}};
  return configuration;
}

Result<Sheet> find_sheet(Configuration const& configuration, std::string_view word) {
  auto const found = configuration.sheets.find(std::string(word));
  if (found != configuration.sheets.end()) return found->second;
  auto const size = parse_size(word);
  if (!size) return no_such_sheet(configuration, word, size.error());
  Sheet sheet;
  sheet.name = std::string(word);
  sheet.width = size->width;
  sheet.length = size->length;
  return sheet;
}

}  // namespace layright
