#include <CLI/CLI.hpp>
#include <memory>

#include "command/command.h"
#include "command/ledger_options.h"
#include "watch/decide.h"

namespace layright {
namespace {

struct AgainWords {
  LedgerWords ledger;
  bool anew = false;
};

ExitStatus run_again(AgainWords const& w) {
  return decide_and_do(w.ledger, [&](LedgerEntry& entry, Story const& story, Configuration const&) {
    return lay_again(entry, story, {0, 0, w.anew});
  });
}

}  // namespace

Run add_again(CLI::App& command) {
  auto words = std::make_shared<AgainWords>();
  add_job_options(command, words->ledger);
  command.add_flag("--anew", words->anew, "what was released before is set aside: what held it holds it again");
  return [words] { return run_again(*words); };
}

}  // namespace layright
