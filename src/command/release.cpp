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

Outcome complete(Decision& d, LedgerEntry const& entry, Configuration const& configuration) {
  if (!d.target.empty() && !configuration.targets.contains(d.target))
    return Error{ErrorKind::usage, "--target: there is no target '" + d.target + "' in the configuration"};
  for (auto const& id : d.accept)
    if (!find_check(id)) return no_check_error("--accept", id);
  PlacementOptions scale;
  if (!d.scale.empty())
    if (auto const good = parse_scale(d.scale, scale); !good) return Error{ErrorKind::usage, "--scale: " + good.error().message};
  if (!d.width.empty()) {
    auto const given = parse_length(d.width);
    if (!given) return Error{ErrorKind::usage, "--width: " + given.error().message};
    if (given->in_points() <= 0) return Error{ErrorKind::usage, "--width: a size must be more than nothing"};
  }
  return complete_release(d, entry);
}

/// Why it cannot be released; `entry` is not held, or is already on its way.
Error not_held(LedgerEntry const& entry) {
  auto const job = "job " + std::to_string(entry.id) + " (" + entry.name + ")";
  bool const on_its_way =
      !entry.decision.empty() || entry.state == LedgerState::moving || entry.state == LedgerState::taken || entry.state == LedgerState::placing;
  if (on_its_way) return {ErrorKind::usage, job + " is already queued"};
  return {ErrorKind::usage, job + " is not held: it is " + std::string(word(entry.state)) +
                                (entry.state == LedgerState::ready ? "; layright again " + std::to_string(entry.id) + " lays it once more" : "")};
}

ExitStatus run_release(ReleaseWords const& w) {
  return decide_and_do(w.ledger, [&](LedgerEntry& entry, Configuration const& configuration) -> Result<LedgerEvent> {
    if (entry.state != LedgerState::held || !entry.decision.empty()) return not_held(entry);
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
  command.add_option("--incoming", d.incoming, "right, or wrong (mirrored already): how the art reads")
      ->check(CLI::IsMember({"right", "wrong"}))
      ->type_name("READING");
  command.add_option("--scale", d.scale, "keep, fit, shrink or N%; else as the target says")->type_name("SCALE");
  command.add_option("--width", d.width, "the width that the art shall have on the goods, such as 4in")->type_name("LENGTH")->excludes("--scale");
  command.add_option("--target", d.target, "another target of the configuration")->type_name("NAME");
  command.add_option("--accept", d.accept, "these checks hold it no more; else all that it is held for")
      ->type_name("CHECK,…")
      ->delimiter(',')
      ->allow_extra_args(false);
  command.add_option("--why", d.why, "a word for those who read it later")->type_name("TEXT");
  return [words] { return run_release(*words); };
}

}  // namespace layright
