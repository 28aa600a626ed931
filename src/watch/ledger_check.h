// Proves that a ledger and the folders of its intakes agree.
#pragma once
#include <functional>
#include <string>
#include <vector>

#include "sheet/configuration.h"
#include "watch/ledger.h"

namespace layright {

struct LedgerCheck {
  long long entries = 0, files = 0;  // looked at
  long long faults = 0;
};

/// Tells each disagreement in plain words: damage of the ledger itself, originals and outputs that are gone or have other bytes, files in the
/// ready, held and originals folders that it does not know. `intakes`: those of this ledger. Errors: io.
Result<LedgerCheck> check_ledger(Ledger const& ledger, std::vector<Intake> const& intakes, std::function<void(std::string const&)> const& report);

}  // namespace layright
