#include "watch/ledger_writes.h"

#include <utility>

#include "watch/ledger_rows.h"

namespace layright {
namespace {

constexpr char const* kAllColumns =
    "intake, name, digest, device, inode, bytes, modified_ns, arrived, changed, state, next, place, goes_to, place_key, goes_key, target, "
    "copies, run, tries, interrupted, verdict, reason, findings, same_as, decision, send, send_name, send_told, press_job, render, owner, token, "
    "lease";

std::string text_of(LedgerState state) { return std::string(word(state)); }

void must_be_ours(Database const& database, long long changed) {
  if (changed == 0 && database.is_shared()) throw DatabaseError(DatabaseError::Kind::lease_lost, "another desk goes on with it");
}

}  // namespace

LedgerWrites::LedgerWrites(Database& database, std::string desk, std::chrono::milliseconds lease)
    : database_(database), desk_(std::move(desk)), until_(desk_.empty() ? "0" : database.now() + "+" + std::to_string(lease.count())) {}

void LedgerWrites::add(LedgerEntry& e) {
  e.owner = desk_;
  e.token = desk_.empty() ? 0 : 1;
  e.id = database_.single(std::string("INSERT INTO entry(") + kAllColumns +
                              ") VALUES(?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?," + until_ + ") RETURNING id",
                          e.intake, RawBytes{e.name}, e.digest, e.mark.device, e.mark.inode, e.mark.bytes, e.mark.modified_ns, e.arrived, e.changed,
                          text_of(e.state), text_of(e.next), RawBytes{e.place}, RawBytes{e.goes_to}, RawBytes{ledger_key(e.place)},
                          RawBytes{ledger_key(e.goes_to)}, e.target, e.copies, e.run, e.tries, e.interrupted, e.verdict, e.reason, e.findings,
                          e.same_as, e.decision, e.send, e.send_name, e.send_reported, e.press_job, e.render, e.owner, e.token);
}
void LedgerWrites::update(LedgerEntry const& e) {
  must_be_ours(
      database_,
      database_.single(
          "UPDATE entry SET digest=?, device=?, inode=?, bytes=?, modified_ns=?, changed=?, state=?, next=?, place=?, goes_to=?, place_key=?, "
          "goes_key=?, target=?, copies=?, run=?, tries=?, "
          "interrupted=?, verdict=?, reason=?, findings=?, same_as=?, decision=?, send=?, send_name=?, send_told=?, press_job=?, render=?, "
          "lease=lease*? "
          "WHERE id=? AND token=? RETURNING id",
          e.digest, e.mark.device, e.mark.inode, e.mark.bytes, e.mark.modified_ns, e.changed, text_of(e.state), text_of(e.next), RawBytes{e.place},
          RawBytes{e.goes_to}, RawBytes{ledger_key(e.place)}, RawBytes{ledger_key(e.goes_to)}, e.target, e.copies, e.run, e.tries, e.interrupted,
          e.verdict, e.reason, e.findings, e.same_as, e.decision, e.send, e.send_name, e.send_reported, e.press_job, e.render,
          is_unfinished(e) ? 1 : 0, e.id, e.token));
}
void LedgerWrites::remove(LedgerEntry const& e) {
  for (char const* table : {"event", "output", "spoiled"}) database_.put(std::string("DELETE FROM ") + table + " WHERE entry=?", e.id);
  must_be_ours(database_, database_.single("DELETE FROM entry WHERE id=? AND token=? RETURNING id", e.id, e.token));
}
void LedgerWrites::add(LedgerOutput& o) {
  o.id = database_.single(
      "INSERT INTO output(entry, run, kind, path, path_key, digest, bytes, there, made, pages, copies, toner, currency) "
      "VALUES(?,?,?,?,?,?,?,?,?,?,?,?,?) RETURNING id",
      o.entry, o.run, o.kind, RawBytes{o.path}, RawBytes{ledger_key(o.path)}, o.digest, o.bytes, static_cast<int>(o.there), o.made, o.pages, o.copies,
      o.toner.millionths, o.toner.currency);
}
void LedgerWrites::update(LedgerOutput const& o) {
  database_.put("UPDATE output SET path=?, path_key=?, there=? WHERE id=?", RawBytes{o.path}, RawBytes{ledger_key(o.path)}, static_cast<int>(o.there),
                o.id);
}
void LedgerWrites::remove(LedgerOutput const& o) { database_.put("DELETE FROM output WHERE id=?", o.id); }
void LedgerWrites::report(LedgerEvent const& e) {
  database_.put("INSERT INTO event(entry, at, who, what, why) VALUES(?,?,?,?,?)", e.entry, e.at, e.who, e.what, e.why);
}
void LedgerWrites::spoil(long long entry, long long at, std::string const& who, int sheets, std::string const& why) {
  database_.put("INSERT INTO spoiled(entry, at, who, sheets, why) VALUES(?,?,?,?,?)", entry, at, who, sheets, why);
}

void LedgerWrites::choose_alone(std::string const& intake) {
  if (database_.is_shared()) database_.single("SELECT 1 FROM (SELECT pg_advisory_xact_lock(hashtextextended(?1,0))) AS alone", intake);
}

}  // namespace layright
