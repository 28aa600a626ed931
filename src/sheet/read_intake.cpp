#include <algorithm>

#include "base/in_quotes.h"
#include "sheet/duration.h"
#include "sheet/ledger_address.h"
#include "sheet/read_tables.h"

namespace layright {

namespace {

/// Kept as it is written.
Result<std::string> parse_time(std::string const& text) {
  auto const time = parse_duration(text);
  return time ? Result<std::string>(text) : time.error();
}

Result<std::string> parse_duplicates(std::string const& text) {
  if (text == "hold" || text == "again" || text == "skip") return text;
  return usage_error(in_quotes(text) + " is not known here: use hold, again or skip");
}

class Settings {
 public:
  Settings(TomlReader const& reader, std::map<std::string, std::string>& into) : reader_(reader), into_(into) {}

  Setter parsed(char const* key, Result<std::string> (*parse)(std::string const&), char const* expected) const {
    return [this, key, parse, expected](Entry const& entry) { return reader_.parsed(into_[key], parse, expected)(entry); };
  }
  Setter flag(char const* key) const {
    return [this, key](Entry const& entry) -> Outcome {
      bool value = false;
      if (auto const read = reader_.flag(value)(entry); !read) return read;
      into_[key] = value ? "true" : "false";
      return done();
    };
  }
  Setter whole(char const* key, int least, int most) const {
    return [this, key, least, most](Entry const& entry) -> Outcome {
      int value = 0;
      if (auto const read = reader_.whole(value, least, most)(entry); !read) return read;
      into_[key] = std::to_string(value);
      return done();
    };
  }
  /// One pattern, or a list of them; kept one a line.
  Setter patterns(char const* key) const {
    return [this, key](Entry const& entry) -> Outcome {
      auto const* const list = entry.node.as_array();
      if (list == nullptr) return reader_.text(into_[key], "a file name pattern or a list of them, such as [\"*.part\"]")(entry);
      std::string lines;
      for (auto const& node : *list) {
        auto const pattern = reader_.text_of({node, entry.name}, "a file name pattern in quotes, such as \"*.part\"");
        if (!pattern) return pattern.error();
        lines += (lines.empty() ? "" : "\n") + *pattern;
      }
      into_[key] = lines;
      return done();
    };
  }

 private:
  TomlReader const& reader_;
  std::map<std::string, std::string>& into_;
};

Setter target_setter(TomlReader const& reader, Configuration const& configuration, std::string& into) {
  auto const parse = [&configuration](std::string const& word) -> Result<std::string> {
    if (configuration.targets.contains(word)) return word;
    auto const known = names_of(configuration.targets);
    return usage_error("there is no target " + in_quotes(word) + (known.empty() ? "; describe it in [target." + word + "]" : hint(word, known)));
  };
  return reader.parsed(into, parse, "the name of a target in quotes");
}

/// Rules once had presets for light and dark goods.
Setter no_goods(TomlReader const& reader) {
  return [&reader](Entry const& entry) {
    return Outcome(reader.at(
        entry, "how much white goes under art for which goods is yours to say: white = \"80%\" here, or a target of its own with its white"));
  };
}

Outcome check_rule(TomlReader const& reader, Entry const& entry, Configuration const& configuration, Intake const& intake, IntakeRule const& rule) {
  auto const target = configuration.targets.find(rule.target.empty() ? intake.target : rule.target);
  if (!rule.white || target == configuration.targets.end()) return done();
  auto const fits = check_white(*rule.white, target->second.press);
  return fits ? done() : Outcome(reader.at({*entry.node.as_table()->get("white"), "white in " + entry.name}, fits.error().message));
}

Setter rules_setter(TomlReader const& reader, Configuration const& configuration, Intake const& intake, std::vector<IntakeRule>& into) {
  return [&](Entry const& entry) -> Outcome {
    auto const* const list = entry.node.as_array();
    if (list == nullptr) return reader.unexpected(entry, "rules, each below a line [[intake.NAME.rule]]");
    for (auto const& node : *list) {
      IntakeRule rule;
      int copies = 0;
      auto const gang = [&](Entry const& from) { return reader.flag(rule.gang.emplace())(from); };
      auto const read =
          reader.table({node, entry.name}, {{"match", reader.text(rule.match, "a file name pattern in quotes, such as \"*-dark*\""), true},
                                            {"target", target_setter(reader, configuration, rule.target)},
                                            {"copies", reader.whole(copies, 1, 9999)},
                                            {"gang", gang},
                                            {"white",
                                             [&](Entry const& from) {
                                               return reader.parsed(rule.white.emplace(), parse_white,
                                                                    "\"off\", \"on\" or a share of one full layer in quotes, such as \"80%\"")(from);
                                             }},
                                            {"goods", no_goods(reader)}});
      if (!read) return read;
      if (auto const fits = check_rule(reader, {node, entry.name}, configuration, intake, rule); !fits) return fits;
      if (copies > 0) rule.copies = copies;
      into.push_back(std::move(rule));
    }
    return done();
  };
}

bool lies_within(std::filesystem::path const& inner, std::filesystem::path const& outer) {
  return std::mismatch(outer.begin(), outer.end(), inner.begin(), inner.end()).first == outer.end();
}

/// A folder that is both watched and written to would take in its own output for ever.
Outcome check_folders(TomlReader const& reader, Entry const& entry, Configuration const& configuration, Intake const& intake) {
  bool const subfolders = intake.settings.contains("subfolders") && intake.settings.at("subfolders") == "true";
  std::vector<std::pair<std::string, std::filesystem::path>> const places{
      {"in", intake.in}, {"ready", intake.ready}, {"held", intake.held}, {"originals", intake.originals}, {"ledger", intake.ledger}};
  for (auto const& [name, place] : places) {
    for (auto const& [other_name, other] : places)
      if (name < other_name && place == other)
        return reader.at(entry, in_quotes(name) + " and " + in_quotes(other_name) + " are the same place; each needs one of its own");
    if (subfolders && name != "in" && lies_within(place, intake.in))
      return reader.at(entry, in_quotes(name) + " lies inside the watched folder while subfolders are watched too; move it out");
  }
  for (auto const& [name, other] : configuration.intakes)
    if (other.in == intake.in) return reader.at(entry, "it watches the same folder as [intake." + name + "]");
  return done();
}

}  // namespace

Outcome read_intake(TomlReader const& reader, Entry const& entry, Configuration const& configuration, Intake& intake) {
  Settings const settings(reader, intake.settings);
  auto const read = reader.table(
      entry, {{"target", target_setter(reader, configuration, intake.target), true},
              {"in", reader.path(intake.in), true},
              {"ready", reader.path(intake.ready), true},
              {"held", reader.path(intake.held), true},
              {"originals", reader.path(intake.originals), true},
              {"ledger",
               reader.parsed(
                   intake.ledger, [folder = configuration.path.parent_path()](std::string const& text) { return ledger_place(text, folder); },
                   "a path in quotes, or postgresql:// and so on"),
               true},
              {"poll", settings.parsed("poll", parse_time, "a time in quotes, such as \"2s\"")},
              {"settle", settings.parsed("settle", parse_time, "a time in quotes, such as \"2s\"")},
              {"lease", settings.parsed("lease", parse_time, "a time in quotes, such as \"60s\"")},
              {"duplicates", settings.parsed("duplicates", parse_duplicates, "\"hold\", \"again\" or \"skip\"")},
              {"tries", settings.whole("tries", 1, 100)},
              {"keep-originals", settings.parsed("keep-originals", parse_time, "a time in quotes, such as \"90d\"")},
              {"subfolders", settings.flag("subfolders")},
              {"partial", settings.patterns("partial")},
              {"send", settings.flag("send")},
              {"job-sheet", settings.flag("job-sheet")},
              {"customers-door", settings.flag("customers-door")},
              {"rule", rules_setter(reader, configuration, intake, intake.rules)}});
  if (!read) return read;
  return check_folders(reader, entry, configuration, intake);
}

}  // namespace layright
