// What [intake.NAME] comes to, as values.
#pragma once
#include <chrono>
#include <string>
#include <string_view>
#include <vector>

#include "sheet/configuration.h"

namespace layright {

using Milliseconds = std::chrono::milliseconds;

enum class Duplicates { hold, again, skip };

/// The defaults hold where the configuration says nothing.
struct IntakeSettings {
  Milliseconds poll{0};  // 0: not said; look once a minute where the system tells of arrivals, every 2 s where it does not
  Milliseconds settle{2000};
  Milliseconds lease{60000};       // where desks share a ledger: what one does not go on with for so long, another does
  Milliseconds keep_originals{0};  // 0: for ever
  Duplicates duplicates = Duplicates::hold;
  int tries = 2;
  bool subfolders = false, send = false, job_sheet = true;
  std::vector<std::string> partial{"*.part", "*.partial", "*.tmp", "*.upload"};
};

IntakeSettings settings_of(Intake const& intake);

/// Whether a name is one of a file that is not whole yet: it starts with a dot or matches a pattern (capitals do not matter).
bool is_partial_name(IntakeSettings const& settings, std::string const& name);

/// The first rule that matches the file's name; null when none does.
IntakeRule const* rule_for(Intake const& intake, std::string const& file_name);

}  // namespace layright
