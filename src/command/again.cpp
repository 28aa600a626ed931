#include <CLI/CLI.hpp>
#include <memory>

#include "command/command.h"
#include "command/ledger_options.h"
#include "watch/decision.h"

namespace layright {
namespace {

ExitStatus run_again(LedgerWords const& w) {
  return decide_and_do(w, [](LedgerEntry& entry, Configuration const&) -> Result<LedgerEvent> {
    std::string const job = "job " + std::to_string(entry.id) + " (" + entry.name + ")";
    bool const at_rest = entry.state == LedgerState::ready || entry.state == LedgerState::discarded || entry.state == LedgerState::skipped;
    if (!at_rest || !entry.decision.empty())
      return Error{ErrorKind::usage,
                   job + " is " + std::string(word(entry.state)) +
                       (entry.state == LedgerState::held ? "; layright release lets it go on" : ", so it cannot be laid again now")};
    if (entry.place.empty()) return Error{ErrorKind::no_input, job + ": its original is no longer kept; ask for the file again"};
    if (entry.send == "wanted" || entry.send == "sending") return Error{ErrorKind::try_again, job + " is being sent; wait for its end"};
    Decision decision;
    decision.kind = Decision::Kind::again;
    entry.decision = decision_text(decision);
    return LedgerEvent{entry.id, 0, {}, "again", {}};
  });
}

}  // namespace

Run add_again(CLI::App& command) {
  auto words = std::make_shared<LedgerWords>();
  add_job_options(command, *words);
  return [words] { return run_again(*words); };
}

}  // namespace layright
