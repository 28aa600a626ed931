// The number of a job as a barcode holds it and a command takes it.
#pragma once
#include <string>
#include <string_view>

#include "sheet/configuration.h"
#include "watch/ledger.h"

namespace layright {

/// "17", or "front-desk:17" where the configuration has several ledgers and the number alone would not tell.
std::string job_code(LedgerEntry const& entry, Configuration const& configuration);

struct JobCode {
  std::string intake;  // or empty
  long long id = 0;
};
/// As a scanner types it: blanks and line ends around it do not count. Error (usage).
Result<JobCode> parse_job_code(std::string_view text);

}  // namespace layright
