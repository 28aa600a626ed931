// What a customer is asked for, in words that are ready to be sent.
#pragma once
#include "report/page_json.h"
#include "watch/ledger.h"

namespace layright {

/// {"what": "an unlocked file", "text": "Hello, …"}; null for a job that is not held.
Json customer_request_json(LedgerEntry const& entry);

}  // namespace layright
