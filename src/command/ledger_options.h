// Which ledger a command means, and how it has done what a person decided.
#pragma once
#include <CLI/CLI.hpp>
#include <functional>
#include <string>
#include <vector>

#include "command/exit_status.h"
#include "sheet/configuration.h"
#include "watch/ledger.h"

namespace layright {

struct LedgerWords {
  std::string config, intake, by;
  std::string intake_of_id;  // of a job's number that names it
  long long id = 0;
};
void add_ledger_options(CLI::App& command, LedgerWords& words);
/// Beside these the number of a job, and who decides.
void add_job_options(CLI::App& command, LedgerWords& words);

struct FoundLedger {
  Configuration configuration;
  std::vector<Intake> intakes;  // those that share it
  std::filesystem::path path;
};
/// All ledgers of the configuration, or the one of --intake. Errors: usage.
Result<std::vector<FoundLedger>> find_ledgers(LedgerWords const& words);
/// The one that is meant; several without --intake are an error (usage).
Result<FoundLedger> find_ledger(LedgerWords const& words);

/// Who sits here: --by, else the name of the user.
std::string person(LedgerWords const& words);

/// Has done what was decided in this ledger: by the watcher that runs, which is told as `what`, or here and now.
ExitStatus have_it_done(FoundLedger const& found, std::string const& what);

/// Changes the entry that is meant, in one transaction: `decide` gives what it becomes and what to write into its story, or says why not.
using DecideBy = std::function<Result<LedgerEvent>(LedgerEntry& entry, std::vector<LedgerEvent> const& story, Configuration const& configuration)>;
/// Then has it done: by the watcher that runs, or here and now.
ExitStatus decide_and_do(LedgerWords const& words, DecideBy const& what);

}  // namespace layright
