#include <CLI/CLI.hpp>
#include <memory>

#include "command/command.h"
#include "command/ledger_options.h"
#include "watch/decide.h"

namespace layright {
namespace {

struct DiscardWords {
  LedgerWords ledger;
  std::string why;
};

ExitStatus run_discard(DiscardWords const& w) {
  return decide_and_do(w.ledger, [&](LedgerEntry& entry, Story const&, Configuration const&) { return discard(entry, w.why); });
}

}  // namespace

Run add_discard(CLI::App& command) {
  auto words = std::make_shared<DiscardWords>();
  add_job_options(command, words->ledger);
  command.add_option("--why", words->why, "the reason, for those who read it later")->required()->type_name("TEXT");
  return [words] { return run_discard(*words); };
}

}  // namespace layright
