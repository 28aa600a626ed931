#include "watch/intake_settings.h"

#include <fnmatch.h>

#include <algorithm>
#include <cstdlib>
#include <sstream>

#include "sheet/duration.h"
#include "sheet/ledger_address.h"

namespace layright {
namespace {

/// The reader of the configuration has seen to it that this is one.
Milliseconds duration(std::string const& text) { return parse_duration(text).value_or(Milliseconds()); }

bool matches(std::string const& pattern, std::string const& name) { return fnmatch(pattern.c_str(), name.c_str(), FNM_CASEFOLD) == 0; }

}  // namespace

IntakeSettings settings_of(Intake const& intake) {
  IntakeSettings s;
  auto const said = [&](char const* key, auto const& take) {
    if (auto const found = intake.settings.find(key); found != intake.settings.end()) take(found->second);
  };
  if (is_server_address(intake.ledger.native())) s.poll = Milliseconds(2000);  // the system does not tell of what other machines put there
  said("lease", [&](std::string const& v) { s.lease = std::max(duration(v), Milliseconds(400)); });
  said("poll", [&](std::string const& v) { s.poll = duration(v); });
  said("settle", [&](std::string const& v) { s.settle = duration(v); });
  said("keep-originals", [&](std::string const& v) { s.keep_originals = duration(v); });
  said("duplicates", [&](std::string const& v) {
    s.duplicates = v == "again" ? Duplicates::again : v == "skip" ? Duplicates::skip : Duplicates::hold;
  });
  said("tries", [&](std::string const& v) { s.tries = std::atoi(v.c_str()); });
  said("subfolders", [&](std::string const& v) { s.subfolders = v == "true"; });
  said("send", [&](std::string const& v) { s.send = v == "true"; });
  said("job-sheet", [&](std::string const& v) { s.job_sheet = v == "true"; });
  said("partial", [&](std::string const& v) {
    s.partial.clear();
    std::istringstream lines(v);
    for (std::string line; std::getline(lines, line);) s.partial.push_back(line);
  });
  return s;
}

bool is_partial_name(IntakeSettings const& settings, std::string const& name) {
  if (name.starts_with('.')) return true;
  return std::any_of(settings.partial.begin(), settings.partial.end(), [&](std::string const& pattern) { return matches(pattern, name); });
}

IntakeRule const* rule_for(Intake const& intake, std::string const& file_name) {
  auto const found = std::find_if(intake.rules.begin(), intake.rules.end(), [&](IntakeRule const& rule) { return matches(rule.match, file_name); });
  return found == intake.rules.end() ? nullptr : &*found;
}

}  // namespace layright
