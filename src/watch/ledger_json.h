// The ledger in the JSON that others rely on.
#pragma once
#include <vector>

#include "report/page_json.h"
#include "watch/gang_batch.h"
#include "watch/ledger.h"

namespace layright {

/// Text of the ledger that is a JSON list; an empty list where it is none.
Json parsed_list(std::string const& text);
/// A job as `ledger --format json` lists it.
Json entry_json(LedgerEntry const& entry);
/// All that is known of one.
Json job_json(Ledger const& ledger, LedgerEntry const& entry, std::vector<LedgerOutput> const& outputs, std::vector<LedgerEvent> const& events);
Json sheets_json(SheetsRow const& row);
Json waiting_json(std::vector<WaitingSheet> const& waiting);

}  // namespace layright
