// What a person does about an arrival, from wherever it is said: on the command line or at the desk.
#pragma once
#include <functional>
#include <string>

#include "sheet/configuration.h"
#include "watch/decision.h"
#include "watch/ledger.h"

namespace layright {

/// What the entry becomes, and what to write into its story; or why not (usage, no_input, try_again).
using Decide = std::function<Result<LedgerEvent>(LedgerEntry& entry)>;

/// Lets a held arrival go on, as `decision` says it (see complete_release). One that waits for a sheet: gang_now, or laid anew as it is said.
Result<LedgerEvent> release(LedgerEntry& entry, Decision decision, Configuration const& configuration);
/// One that waits to share a sheet does not wait for more.
Result<LedgerEvent> gang_now(LedgerEntry& entry);
/// What of it is laid again: one of its sheets, from 1, or so many copies; 0: all.
struct AgainPart {
  int sheet = 0, copies = 0;
};
/// Once more from its original.
Result<LedgerEvent> lay_again(LedgerEntry& entry, AgainPart part = {});
/// Has a ready job sent to its press that was not printed yet, by the watcher.
Result<LedgerEvent> print_laid(LedgerEntry& entry, Configuration const& configuration);
Result<LedgerEvent> discard(LedgerEntry& entry, std::string const& why);

/// Changes job `id` in one transaction; whoever watches the ledger does then what was decided. `who` decides.
Outcome decide(Ledger& ledger, long long id, std::string const& who, Decide const& what);
/// Counts printed sheets of a job as spoiled.
/// How many sheets a job has; 0 where it was never laid.
Result<int> sheets_of_job(Ledger const& ledger, long long id);
Outcome count_spoiled(Ledger& ledger, long long id, std::string const& who, int sheets, std::string const& why);

}  // namespace layright
