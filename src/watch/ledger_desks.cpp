// What several desks that share a ledger have to do with one another. Times are the database's.
#include <unistd.h>

#include <algorithm>
#include <climits>

#include "base/hex.h"
#include "watch/ledger.h"
#include "watch/ledger_errors.h"
#include "watch/ledger_rows.h"

namespace layright {
namespace {

constexpr int kMostTaken = 16;  // at one look: others are to have some too
/// What nobody has: let go, or not renewed by another desk in time. What this one has it renews, however late.
std::string free_rows(bool sendings, std::string const& now, char const* desk) {
  return std::string(kUnfinished) + (sendings ? "" : " AND (state IN ('moving','taken','placing') OR decision <> '')") + " AND (lease=0 OR (lease<" +
         now + " AND owner<>" + desk + "))";
}

std::string machine() {
  char name[HOST_NAME_MAX + 1] = {};
  return ::gethostname(name, HOST_NAME_MAX) == 0 ? name : "machine";
}

}  // namespace

bool Ledger::is_shared() const { return database_ && database_->is_shared(); }

Outcome Ledger::work_as_desk(std::chrono::milliseconds lease) {
  if (!is_shared()) return done();
  if (desk_.empty()) desk_ = machine() + "/" + std::to_string(::getpid()) + "/" + random_hexadecimal(8);
  lease_ = lease;
  return renew();
}

Outcome Ledger::renew() {
  if (desk_.empty()) return done();
  auto const renewed = ledger_guarded(path_, [&] {
    std::string const now = database_->now();
    // What has a lease is unfinished: said so that it is found among millions that are not.
    database_->put("UPDATE entry SET lease=" + now + "+? WHERE owner=? AND lease>0 AND " + kUnfinished, lease_.count(), desk_);
    database_->put("INSERT INTO watcher(mark, seen) VALUES(?," + now + "+?) ON CONFLICT(mark) DO UPDATE SET seen=excluded.seen", desk_,
                   lease_.count());
    database_->put("DELETE FROM watcher WHERE seen<" + now);
    return true;
  });
  return renewed ? done() : Outcome(renewed.error());
}

Result<std::vector<std::string>> Ledger::desks() const {
  return ledger_guarded(path_, [&] {
    auto const rows = database_->ask("SELECT mark FROM watcher WHERE seen>=" + database_->now() + " ORDER BY mark");
    std::vector<std::string> alive;
    while (rows->next()) alive.push_back(rows->text(0));
    return alive;
  });
}

Result<std::vector<bool>> Ledger::moves_from(std::vector<std::filesystem::path> const& places) const {
  std::vector<bool> moves(places.size(), false);
  if (!is_shared()) return moves;  // whatever moves is this watcher's own, which knows of it
  return ledger_guarded(path_, [&] {
    std::vector<std::vector<DatabaseValue>> sets;
    for (auto const& place : places) sets.push_back({DatabaseValue(RawBytes{place.native()})});
    database_->ask_each("SELECT 1 FROM entry WHERE place=? AND state='moving' LIMIT 1", sets,
                        [&](std::size_t i, RowSource& rows) { moves[i] = rows.next(); });
    return moves;
  });
}

Result<bool> Ledger::tells_of(LedgerOutput const& output) const {
  return ledger_guarded(path_, [&] {
    return database_->single("SELECT count(*) FROM output WHERE path_key=? AND path=? AND digest=?", RawBytes{ledger_key(output.path)},
                             RawBytes{output.path}, output.digest) > 0;
  });
}

Result<bool> Ledger::has(LedgerEntry const& entry) const {
  if (desk_.empty()) return true;
  return ledger_guarded(path_, [&] { return database_->single("SELECT count(*) FROM entry WHERE id=? AND token=?", entry.id, entry.token) > 0; });
}

Result<bool> Ledger::work_waits(std::string const& intake, bool sendings) const {
  return ledger_guarded(path_, [&] {
    return database_->ask("SELECT 1 FROM entry WHERE intake=?1 AND " + free_rows(sendings, database_->now(), "?2") + " LIMIT 1", intake, desk_)
        ->next();
  });
}

void Ledger::take_few(std::string const& intake, bool sendings, std::vector<long long>& taken) {
  auto const rows = database_->ask("UPDATE entry SET token=token+1, owner=?1, lease=" + database_->now() +
                                       "+?2 WHERE id IN (SELECT id FROM entry WHERE intake=?3 AND " + free_rows(sendings, database_->now(), "?1") +
                                       " ORDER BY id LIMIT ?4 FOR UPDATE SKIP LOCKED) RETURNING id",
                                   desk_, lease_.count(), intake, kMostTaken);
  while (rows->next()) taken.push_back(rows->whole(0));
}

Result<std::vector<LedgerEntry>> Ledger::take_unfinished(std::string const& intake, bool sendings) {
  return ledger_guarded(path_, [&] {
    std::vector<long long> taken;
    if (!desk_.empty()) take_few(intake, sendings, taken);
    auto const rows = database_->ask(std::string("SELECT ") + kEntryColumns + " FROM entry WHERE intake=?1 AND " + kUnfinished +
                                         " AND (?2='' OR (owner=?2 AND lease>0)) ORDER BY id",
                                     intake, desk_);
    std::vector<LedgerEntry> out;
    while (rows->next()) {
      out.push_back(entry_of(*rows));
      out.back().taken_over = std::find(taken.begin(), taken.end(), out.back().id) != taken.end();
    }
    return out;
  });
}

Outcome Ledger::let_go(LedgerEntry const& entry) {
  if (desk_.empty()) return done();
  auto const written = ledger_guarded(path_, [&] {
    database_->put("UPDATE entry SET lease=0 WHERE id=? AND token=?", entry.id, entry.token);
    return true;
  });
  return written ? done() : Outcome(written.error());
}

}  // namespace layright
