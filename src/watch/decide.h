// What a person does about an arrival, from wherever it is said: on the command line or at the desk.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "sheet/configuration.h"
#include "watch/decision.h"
#include "watch/ledger.h"

namespace layright {

/// What happened to a job so far, oldest first.
using Story = std::vector<LedgerEvent>;
/// What the entry becomes, and what to write into its story; or why not (usage, no_input, try_again).
using Decide = std::function<Result<LedgerEvent>(LedgerEntry& entry, Story const& story)>;

/// Lets a held arrival go on, as `decision` says it (see complete_release); what was said of it before counts on where it is not said otherwise. One
/// that waits for a sheet: gang_now, or laid anew as it is said.
Result<LedgerEvent> release(LedgerEntry& entry, Story const& story, Decision decision, Configuration const& configuration);
/// One that waits to share a sheet does not wait for more.
Result<LedgerEvent> gang_now(LedgerEntry& entry);
struct GangedNow {
  int waiting = 0, marked = 0;  // those that do not wait for more; of these, whom nobody had said so of before
};
/// So of all that wait in these intakes for sheets of one target (empty: of any), in one transaction. Errors: the ledger's.
Result<GangedNow> gang_all_now(Ledger& ledger, std::vector<std::string> const& intakes, std::string const& target, std::string const& who);
/// What of it is laid again: one of its sheets, from 1, or so many copies; 0: all. `anew`: what was released before is set aside, and what held it
/// holds it again.
struct AgainPart {
  int sheet = 0, copies = 0;
  bool anew = false;
};
/// Once more from its original. The bytes are those that a person looked at, so what was released of them stands, and the event tells by whom.
Result<LedgerEvent> lay_again(LedgerEntry& entry, Story const& story, AgainPart part = {});
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
