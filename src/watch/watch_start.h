// What must hold before a watcher, or whoever else works on without a person looking, reads customers' files.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "sheet/configuration.h"

namespace layright {

/// Sees whether this machine shuts children in whole, and has it so from now on. `warn` is told where the configuration allows less. Error
/// (usage) where something is missing and it does not.
Outcome demand_sandbox(Configuration const& configuration, std::function<void(std::string const&)> const& warn);

/// The intakes of these names; all where none is named. Errors: usage.
Result<std::vector<Intake const*>> wanted_intakes(Configuration const& configuration, std::vector<std::string> names);

/// Root becomes the user that the configuration names; `warn` is told where it names none. Errors as become_user's.
Outcome give_up_root(Configuration const& configuration, std::function<void(std::string const&)> const& warn);

}  // namespace layright
