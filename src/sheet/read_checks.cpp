#include "base/in_quotes.h"
#include "sheet/read_tables.h"

namespace layright {
namespace {

Outcome read_level(TomlReader const& reader, Entry const& entry, std::string const& id, CheckLevels& levels) {
  CheckLevel level = CheckLevel::note;
  auto const read = reader.parsed(level, parse_check_level, "a level in quotes: \"off\", \"note\" or \"hold\"")(entry);
  if (read) levels[id] = level;
  return read;
}

/// `picture.ppi = "hold"`, which TOML reads as a table picture with the key ppi; also "picture.ppi" = "hold".
Outcome read_levels(TomlReader const& reader, Entry const& entry, CheckLevels& levels) {
  for (auto const& [key, node] : *entry.node.as_table()) {
    std::string const name(key.str());
    if (name == "limits") continue;
    if (!node.is_table()) {
      if (name.find('.') == std::string::npos)
        return reader.at({node, in_quotes(name) + " in " + entry.name}, "a check has two words, such as picture.ppi = \"hold\"");
      if (auto const read = read_level(reader, {node, name + " in " + entry.name}, name, levels); !read) return read;
      continue;
    }
    for (auto const& [word, level] : *node.as_table()) {
      std::string const id = name + "." + std::string(word.str());
      if (auto const read = read_level(reader, {level, id + " in " + entry.name}, id, levels); !read) return read;
    }
  }
  return done();
}

}  // namespace

Setter profiles_setter(TomlReader const& reader, Configuration& into) {
  return [&](Entry const& all) {
    return reader.each(all, [&](std::string const& name, Entry const& entry) -> Outcome {
      CheckProfile profile{{}, into.limits};
      if (auto const* const limits = entry.node.as_table()->get("limits")) {
        auto const read = limits_setter(reader, profile.limits)({*limits, "limits in " + entry.name});
        if (!read) return read;
      }
      if (auto const read = read_levels(reader, entry, profile.levels); !read) return read;
      into.profiles[name] = std::move(profile);
      return done();
    });
  };
}

}  // namespace layright
