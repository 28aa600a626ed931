// The day and its jobs in the JSON that the pages read.
#pragma once
#include <string>
#include <vector>

#include "desk/current_shop.h"
#include "desk/exchange.h"
#include "report/page_json.h"
#include "watch/ledger.h"

namespace layright {

/// Milliseconds since 1970 UTC of the last midnight of the shop's own time (TZ).
long long day_begins(long long now);

/// A part of one of the day's lists: held, waiting (to share a sheet), working, or ready, which is what became ready today. Error (usage) for another.
struct DayList {
  std::string name;
  int from = 0, most = 50;
};
inline constexpr int kMostRows = 200;
/// {"list", "from", "total", "jobs"}; each job a short row.
Result<Json> list_json(Ledger const& ledger, DayList const& asked, long long now);
/// The lists, each from its beginning, the sheets that are waited for, and the day's film. `watcher`: the process that watches; 0: none.
Result<Json> today_json(Ledger const& ledger, DeskShop const& shop, int watcher, long long now);
/// All that is known of a job, with what a person may decide about it. `intakes`: those of the ledger.
Result<Json> job_page_json(Ledger const& ledger, LedgerEntry const& entry, std::vector<Intake> const& intakes);
Result<Json> film_json(Ledger const& ledger);

/// The file of a job that may be taken away: laid, sheet or original; its path, empty where there is none.
Result<std::string> file_of_job(Ledger const& ledger, LedgerEntry const& entry, std::string const& kind);

}  // namespace layright
