#include <CLI/CLI.hpp>
#include <memory>

#include "command/command.h"
#include "command/ledger_options.h"
#include "watch/decision.h"

namespace layright {
namespace {

struct DiscardWords {
  LedgerWords ledger;
  std::string why;
};

ExitStatus run_discard(DiscardWords const& w) {
  return decide_and_do(w.ledger, [&](LedgerEntry& entry, Configuration const&) -> Result<LedgerEvent> {
    if (entry.state != LedgerState::held || !entry.decision.empty())
      return Error{ErrorKind::usage, "job " + std::to_string(entry.id) + " (" + entry.name + ") is not held, but " + std::string(word(entry.state))};
    Decision decision;
    decision.kind = Decision::Kind::discard;
    decision.why = w.why;
    entry.decision = decision_text(decision);
    entry.reason = "discarded: " + w.why;
    return LedgerEvent{entry.id, 0, {}, "discarded", w.why};
  });
}

}  // namespace

Run add_discard(CLI::App& command) {
  auto words = std::make_shared<DiscardWords>();
  add_job_options(command, words->ledger);
  command.add_option("--why", words->why, "the reason, for those who read it later")->required()->type_name("TEXT");
  return [words] { return run_discard(*words); };
}

}  // namespace layright
