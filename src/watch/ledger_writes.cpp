#include "watch/ledger_writes.h"

#include <cstdint>
#include <deque>
#include <set>
#include <string_view>
#include <utility>
#include <vector>

#include "watch/ledger_rows.h"

namespace layright {
namespace {

constexpr char const* kAllColumns =
    "intake, name, digest, device, inode, bytes, modified_ns, arrived, changed, state, next, place, goes_to, place_key, goes_key, target, "
    "copies, run, tries, interrupted, verdict, reason, findings, same_as, decision, send, send_name, send_told, press_job, render, owner, token, "
    "batch, gang, lease";

/// FNV-1a, 64 bits.
long long same_on_all_machines(std::string_view text) {
  std::uint64_t sum = 14695981039346656037u;
  for (char const c : text) sum = (sum ^ static_cast<unsigned char>(c)) * 1099511628211u;
  return static_cast<long long>(sum);
}

/// Values of several rows, for one statement.
class ValueSets {
 public:
  template <class... Values>
  void add(Values const&... values) {
    sets_.push_back({DatabaseValue(values)...});
  }
  /// A text that lives as long as these.
  std::string const& kept(std::string text) { return texts_.emplace_back(std::move(text)); }
  /// Tells for each row the first number that the statement gave; 0 where it gave none.
  template <class Each>
  void ask(Database& database, std::string const& sql, Each const& each) const {
    database.ask_each(sql, sets_, [&](std::size_t i, RowSource& rows) { each(i, rows.next() ? rows.whole(0) : 0); });
  }

 private:
  std::vector<std::vector<DatabaseValue>> sets_;
  std::deque<std::string> texts_;
};

void must_be_ours(Database const& database, long long changed) {
  if (changed == 0 && database.is_shared()) throw DatabaseError(DatabaseError::Kind::lease_lost, "another desk goes on with it");
}

}  // namespace

LedgerWrites::LedgerWrites(Database& database, std::string desk, std::chrono::milliseconds lease)
    : database_(database), desk_(std::move(desk)), until_(desk_.empty() ? "0" : database.now() + "+" + std::to_string(lease.count())) {}

void LedgerWrites::add_all(std::vector<LedgerEntry*> const& entries) {
  ValueSets sets;
  for (auto* const entry : entries) {
    auto& e = *entry;
    e.owner = desk_;
    e.token = desk_.empty() ? 0 : 1;
    sets.add(e.intake, RawBytes{e.name}, e.digest, e.mark.device, e.mark.inode, e.mark.bytes, e.mark.modified_ns, e.arrived, e.changed,
             sets.kept(std::string(word(e.state))), sets.kept(std::string(word(e.next))), RawBytes{e.place}, RawBytes{e.goes_to},
             RawBytes{sets.kept(ledger_key(e.place))}, RawBytes{sets.kept(ledger_key(e.goes_to))}, e.target, e.copies, e.run, e.tries, e.interrupted,
             e.verdict, e.reason, e.findings, e.same_as, e.decision, e.send, e.send_name, e.send_reported, e.press_job, e.render, e.owner, e.token,
             e.batch, e.gang);
  }
  sets.ask(database_,
           std::string("INSERT INTO entry(") + kAllColumns + ") VALUES(?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?," +
               until_ + ") RETURNING id",
           [&](std::size_t i, long long id) { entries[i]->id = id; });
}
void LedgerWrites::update_all(std::vector<LedgerEntry const*> const& entries) {
  ValueSets sets;
  for (auto const* const entry : entries) {
    auto const& e = *entry;
    sets.add(e.digest, e.mark.device, e.mark.inode, e.mark.bytes, e.mark.modified_ns, e.changed, sets.kept(std::string(word(e.state))),
             sets.kept(std::string(word(e.next))), RawBytes{e.place}, RawBytes{e.goes_to}, RawBytes{sets.kept(ledger_key(e.place))},
             RawBytes{sets.kept(ledger_key(e.goes_to))}, e.target, e.copies, e.run, e.tries, e.interrupted, e.verdict, e.reason, e.findings,
             e.same_as, e.decision, e.send, e.send_name, e.send_reported, e.press_job, e.render, e.batch, e.gang, is_unfinished(e) ? 1 : 0, e.id,
             e.token);
  }
  sets.ask(database_,
           "UPDATE entry SET digest=?, device=?, inode=?, bytes=?, modified_ns=?, changed=?, state=?, next=?, place=?, goes_to=?, place_key=?, "
           "goes_key=?, target=?, copies=?, run=?, tries=?, "
           "interrupted=?, verdict=?, reason=?, findings=?, same_as=?, decision=?, send=?, send_name=?, send_told=?, press_job=?, render=?, batch=?, "
           "gang=?, "
           "lease=lease*? "
           "WHERE id=? AND token=? RETURNING id",
           [&](std::size_t, long long changed) { must_be_ours(database_, changed); });
}
void LedgerWrites::remove(LedgerEntry const& e) {
  for (char const* table : {"event", "output", "spoiled"}) database_.put(std::string("DELETE FROM ") + table + " WHERE entry=?", e.id);
  must_be_ours(database_, database_.single("DELETE FROM entry WHERE id=? AND token=? RETURNING id", e.id, e.token));
}
void LedgerWrites::add_all(std::vector<LedgerOutput*> const& outputs) {
  ValueSets sets;
  for (auto const* const o : outputs)
    sets.add(o->entry, o->run, o->kind, RawBytes{o->path}, RawBytes{sets.kept(ledger_key(o->path))}, o->digest, o->bytes, static_cast<int>(o->there),
             o->made, o->pages, o->copies, o->toner.millionths, o->toner.currency);
  sets.ask(database_,
           "INSERT INTO output(entry, run, kind, path, path_key, digest, bytes, there, made, pages, copies, toner, currency) "
           "VALUES(?,?,?,?,?,?,?,?,?,?,?,?,?) RETURNING id",
           [&](std::size_t i, long long id) { outputs[i]->id = id; });
}
void LedgerWrites::update_all(std::vector<LedgerOutput const*> const& outputs) {
  ValueSets sets;
  for (auto const* const o : outputs) sets.add(static_cast<int>(o->there), o->id);
  sets.ask(database_, "UPDATE output SET there=? WHERE id=? RETURNING id", [](std::size_t, long long) {});
}
void LedgerWrites::remove(LedgerOutput const& o) { database_.put("DELETE FROM output WHERE id=?", o.id); }
void LedgerWrites::report_all(std::vector<LedgerEvent> const& events) {
  ValueSets sets;
  for (auto const& e : events) sets.add(e.entry, e.at, e.who, e.what, e.why);
  sets.ask(database_, "INSERT INTO event(entry, at, who, what, why) VALUES(?,?,?,?,?)", [](std::size_t, long long) {});
}
void LedgerWrites::spoil(long long entry, long long at, std::string const& who, int sheets, std::string const& why) {
  database_.put("INSERT INTO spoiled(entry, at, who, sheets, why) VALUES(?,?,?,?,?)", entry, at, who, sheets, why);
}

void LedgerWrites::choose_alone(std::vector<std::string> const& what) {
  if (!database_.is_shared()) return;
  std::set<long long> locks;  // in one order for all desks, so that none waits for one that waits for it
  for (auto const& each : what) locks.insert(same_on_all_machines(each));
  ValueSets sets;
  for (auto const lock : locks) sets.add(lock);
  sets.ask(database_, "SELECT 1 FROM (SELECT pg_advisory_xact_lock(CAST(? AS bigint))) AS alone", [](std::size_t, long long) {});
}

}  // namespace layright
