#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>

#include "command/command.h"
#include "command/ledger_options.h"
#include "command/target_options.h"
#include "watch/decision.h"

namespace layright {
namespace {

struct ReleaseWords {
  LedgerWords ledger;
  Decision decision;
};

bool is_about_reading(std::string const& check) {
  return check == "reading.unknown" || check == "reading.none" || check == "reading.mixed" || check == "reading.conflict";
}

/// What a person has not said is taken from what the entry is held for: those holds are none.
Outcome complete(Decision& d, LedgerEntry const& entry, Configuration const& configuration) {
  if (!d.target.empty() && !configuration.targets.contains(d.target))
    return Error{ErrorKind::usage, "--target: there is no target '" + d.target + "' in the configuration"};
  for (auto const& id : d.accept)
    if (!find_check(id)) return no_check_error("--accept", id);
  PlacementOptions scale;
  if (!d.scale.empty())
    if (auto const good = parse_scale(d.scale, scale); !good) return Error{ErrorKind::usage, "--scale: " + good.error().message};
  if (!d.accept.empty()) return done();
  for (auto const& check : holding_checks(entry)) {
    if (is_about_reading(check) && d.incoming.empty() && d.target.empty())
      return Error{ErrorKind::usage, "job " + std::to_string(entry.id) +
                                         ": look how the art reads and say it: --incoming right where it reads as it is meant to be read, "
                                         "--incoming wrong where it is reversed already"};
    if (check == "ink.size" && d.scale.empty() && d.target.empty())
      return Error{ErrorKind::usage, "job " + std::to_string(entry.id) +
                                         ": the art is larger than the sheet's live area: say --scale shrink, a percentage, or another --target"};
    if (!is_about_reading(check) && check != "ink.size") d.accept.push_back(check);
  }
  return done();
}

ExitStatus run_release(ReleaseWords const& w) {
  return decide_and_do(w.ledger, [&](LedgerEntry& entry, Configuration const& configuration) -> Result<LedgerEvent> {
    if (entry.state != LedgerState::held || !entry.decision.empty())
      return Error{ErrorKind::usage, "job " + std::to_string(entry.id) + " (" + entry.name + ") is not held, but " + std::string(word(entry.state))};
    auto decision = w.decision;
    if (auto const good = complete(decision, entry, configuration); !good) return good.error();
    entry.decision = decision_text(decision);
    return LedgerEvent{entry.id, 0, {}, "released", entry.decision};
  });
}

}  // namespace

Run add_release(CLI::App& command) {
  auto words = std::make_shared<ReleaseWords>();
  add_job_options(command, words->ledger);
  auto& d = words->decision;
  command.add_option("--incoming", d.incoming, "right or wrong: how the art reads")->check(CLI::IsMember({"right", "wrong"}))->type_name("READING");
  command.add_option("--scale", d.scale, "keep, fit, shrink or N%; else as the target says")->type_name("SCALE");
  command.add_option("--target", d.target, "another target of the configuration")->type_name("NAME");
  command.add_option("--accept", d.accept, "these holds are none; else all that it is held for")
      ->type_name("CHECK,…")
      ->delimiter(',')
      ->allow_extra_args(false);
  command.add_option("--why", d.why, "a word for those who read it later")->type_name("TEXT");
  return [words] { return run_release(*words); };
}

}  // namespace layright
