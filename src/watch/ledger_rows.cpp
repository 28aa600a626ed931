#include "watch/ledger_rows.h"

#include "base/utf8.h"

namespace layright {

LedgerEntry entry_of(RowSource const& row) {
  LedgerEntry e;
  int c = 0;
  e.id = row.whole(c++);
  e.intake = row.text(c++);
  e.name = row.text(c++);
  e.digest = row.text(c++);
  e.mark.device = row.whole(c++);
  e.mark.inode = row.whole(c++);
  e.mark.bytes = row.whole(c++);
  e.mark.modified_ns = row.whole(c++);
  e.arrived = row.whole(c++);
  e.changed = row.whole(c++);
  e.state = parse_ledger_state(row.text(c++)).value_or(LedgerState::missing);
  e.next = parse_ledger_state(row.text(c++)).value_or(LedgerState::taken);
  e.place = row.text(c++);
  e.goes_to = row.text(c++);
  e.target = row.text(c++);
  e.copies = static_cast<int>(row.whole(c++));
  e.run = static_cast<int>(row.whole(c++));
  e.tries = static_cast<int>(row.whole(c++));
  e.interrupted = static_cast<int>(row.whole(c++));
  e.verdict = row.text(c++);
  e.reason = row.text(c++);
  e.findings = row.text(c++);
  e.same_as = row.whole(c++);
  e.decision = row.text(c++);
  e.send = row.text(c++);
  e.send_name = row.text(c++);
  e.send_reported = row.text(c++);
  e.press_job = static_cast<int>(row.whole(c++));
  e.render = row.text(c++);
  e.owner = row.text(c++);
  e.token = row.whole(c++);
  e.batch = row.whole(c++);
  e.gang = row.text(c++);
  return e;
}

bool is_unfinished(LedgerEntry const& e) {
  return e.state == LedgerState::moving || e.state == LedgerState::taken || e.state == LedgerState::placing || !e.decision.empty() ||
         e.send == "wanted" || e.send == "sending";
}

std::string ledger_key(std::filesystem::path const& path) {
  return path.empty() ? std::string() : path.parent_path().native() + "/" + case_folded(path.filename().native());
}

}  // namespace layright
