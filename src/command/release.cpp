#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>

#include "command/command.h"
#include "command/ledger_options.h"
#include "command/target_options.h"
#include "watch/decide.h"

namespace layright {
namespace {

struct ReleaseWords {
  LedgerWords ledger;
  Decision decision;
};

ExitStatus run_release(ReleaseWords const& w) {
  for (auto const& id : w.decision.accept)
    if (!find_check(id)) return fail(no_check_error("--accept", id));
  return decide_and_do(w.ledger, [&](LedgerEntry& entry, Story const& story, Configuration const& configuration) {
    return release(entry, story, w.decision, configuration);
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
  command.add_option("--width", d.width, "how wide the art is to be on the goods, such as 4in")->type_name("LENGTH")->excludes("--scale");
  command.add_option("--target", d.target, "another target of the configuration")->type_name("NAME");
  command.add_option("--accept", d.accept, "let these holds pass; without it, all of them")
      ->type_name("CHECK,…")
      ->delimiter(',')
      ->allow_extra_args(false);
  command.add_option("--why", d.why, "why, for those who read it later")->type_name("TEXT");
  return [words] { return run_release(*words); };
}

}  // namespace layright
