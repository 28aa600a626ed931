#include <CLI/CLI.hpp>
#include <memory>

#include "command/command.h"
#include "command/ledger_options.h"
#include "watch/decide.h"

namespace layright {
namespace {

ExitStatus run_again(LedgerWords const& w) {
  return decide_and_do(w, [](LedgerEntry& entry, Configuration const&) { return lay_again(entry); });
}

}  // namespace

Run add_again(CLI::App& command) {
  auto words = std::make_shared<LedgerWords>();
  add_job_options(command, *words);
  return [words] { return run_again(*words); };
}

}  // namespace layright
