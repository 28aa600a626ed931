// One function for each kind of table in layright.toml: sheet, press, target, intake.
#pragma once
#include "sheet/configuration.h"
#include "sheet/gang_order.h"
#include "sheet/toml_reader.h"

namespace layright {

/// `sheet` comes with the name and what is known of it from the start; `known` says that it has a size already.
Outcome read_sheet(TomlReader const& reader, Entry const& entry, Unit unit, bool known, Sheet& sheet);
/// A string for all edges, { left = …, bottom = …, right = …, top = … } (an edge that is left out stays), or a list in that
/// order.
Setter margins_setter(TomlReader const& reader, Margins& into);

Outcome read_press(TomlReader const& reader, Entry const& entry, Press& press);

/// Needs the sheets and presses of `configuration`; `target` comes with its name and the defaults.
Outcome read_target(TomlReader const& reader, Entry const& entry, Configuration const& configuration, Target& target);
Setter limits_setter(TomlReader const& reader, Limits& into);
/// All [checks.NAME]. Which checks there are is not known here: see check/check.h.
Setter profiles_setter(TomlReader const& reader, Configuration& into);
/// "eng+fra" or ["eng", "fra"].
Setter letters_setter(TomlReader const& reader, std::vector<std::string>& into);

/// The keys of a target that are about its white plate.
std::vector<Key> plate_keys(TomlReader const& reader, PlateOptions& plate);

/// The keys of a target or an order that say how pieces share a sheet.
std::vector<Key> gang_keys(TomlReader const& reader, GangChoices& choices);

/// Whether the press may lay that much; the message tells both shares.
Outcome check_white(White const& white, Press const& press);

/// Needs the targets and the intakes before it.
Outcome read_intake(TomlReader const& reader, Entry const& entry, Configuration const& configuration, Intake& intake);

template <class T>
std::vector<std::string> names_of(std::map<std::string, T> const& things) {
  std::vector<std::string> names;
  for (auto const& [name, thing] : things) names.push_back(name);
  return names;
}

}  // namespace layright
