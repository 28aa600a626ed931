#include "watch/ledger.h"

#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <utility>

#include "base/utf8.h"
#include "report/report.h"
#include "watch/ledger_errors.h"
#include "watch/ledger_schema.h"
#include "watch/sqlite.h"
#include "write/move_file.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

constexpr char const* kColumns =
    "id, intake, name, digest, device, inode, bytes, modified_ns, arrived, changed, state, next, place, goes_to, target, copies, run, tries, "
    "interrupted, verdict, reason, findings, same_as, decision, send, send_name, send_told, press_job, render";

LedgerEntry entry_of(Rows const& row) {
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
  return e;
}

/// A path whose name is folded, for finding what would be the same file to some readers.
std::string key_of(fs::path const& path) {
  return path.empty() ? std::string() : path.parent_path().native() + "/" + case_folded(path.filename().native());
}

std::string text_of(LedgerState state) { return std::string(word(state)); }

class Writes : public LedgerChange {
 public:
  explicit Writes(Database& database) : database_(database) {}

  void add(LedgerEntry& e) override {
    database_.put(std::string("INSERT INTO entry(") + kAllColumns + ") VALUES(NULL,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)",
                  e.intake, RawBytes{e.name}, e.digest, e.mark.device, e.mark.inode, e.mark.bytes, e.mark.modified_ns, e.arrived, e.changed,
                  text_of(e.state), text_of(e.next), RawBytes{e.place}, RawBytes{e.goes_to}, RawBytes{key_of(e.place)}, RawBytes{key_of(e.goes_to)},
                  e.target, e.copies, e.run, e.tries, e.interrupted, e.verdict, e.reason, e.findings, e.same_as, e.decision, e.send, e.send_name,
                  e.send_reported, e.press_job, e.render);
    e.id = database_.last_id();
  }
  void update(LedgerEntry const& e) override {
    database_.put(
        "UPDATE entry SET digest=?, device=?, inode=?, bytes=?, modified_ns=?, changed=?, state=?, next=?, place=?, goes_to=?, place_key=?, "
        "goes_key=?, target=?, copies=?, run=?, tries=?, "
        "interrupted=?, verdict=?, reason=?, findings=?, same_as=?, decision=?, send=?, send_name=?, send_told=?, press_job=?, render=? WHERE id=?",
        e.digest, e.mark.device, e.mark.inode, e.mark.bytes, e.mark.modified_ns, e.changed, text_of(e.state), text_of(e.next), RawBytes{e.place},
        RawBytes{e.goes_to}, RawBytes{key_of(e.place)}, RawBytes{key_of(e.goes_to)}, e.target, e.copies, e.run, e.tries, e.interrupted, e.verdict,
        e.reason, e.findings, e.same_as, e.decision, e.send, e.send_name, e.send_reported, e.press_job, e.render, e.id);
  }
  void remove(LedgerEntry const& e) override {
    for (char const* table : {"event", "output", "spoiled"}) database_.put(std::string("DELETE FROM ") + table + " WHERE entry=?", e.id);
    database_.put("DELETE FROM entry WHERE id=?", e.id);
  }
  void add(LedgerOutput& o) override {
    database_.put("INSERT INTO output(entry, run, kind, path, path_key, digest, bytes, there, made, pages, copies) VALUES(?,?,?,?,?,?,?,?,?,?,?)",
                  o.entry, o.run, o.kind, RawBytes{o.path}, RawBytes{key_of(o.path)}, o.digest, o.bytes, static_cast<int>(o.there), o.made, o.pages,
                  o.copies);
    o.id = database_.last_id();
  }
  void update(LedgerOutput const& o) override {
    database_.put("UPDATE output SET path=?, path_key=?, there=? WHERE id=?", RawBytes{o.path}, RawBytes{key_of(o.path)}, static_cast<int>(o.there),
                  o.id);
  }
  void remove(LedgerOutput const& o) override { database_.put("DELETE FROM output WHERE id=?", o.id); }
  void report(LedgerEvent const& e) override {
    database_.put("INSERT INTO event(entry, at, who, what, why) VALUES(?,?,?,?,?)", e.entry, e.at, e.who, e.what, e.why);
  }
  void spoil(long long entry, long long at, std::string const& who, int sheets, std::string const& why) override {
    database_.put("INSERT INTO spoiled(entry, at, who, sheets, why) VALUES(?,?,?,?,?)", entry, at, who, sheets, why);
  }

 private:
  static constexpr char const* kAllColumns =
      "id, intake, name, digest, device, inode, bytes, modified_ns, arrived, changed, state, next, place, goes_to, place_key, goes_key, target, "
      "copies, run, tries, interrupted, verdict, reason, findings, same_as, decision, send, send_name, send_told, press_job, render";
  Database& database_;
};

/// One transaction; undone unless `work` comes to its end.
void in_transaction(Database& database, std::function<void()> const& work) {
  database.run("BEGIN IMMEDIATE");
  try {
    work();
    database.run("COMMIT");
  } catch (...) {
    try {
      if (database.in_transaction()) database.run("ROLLBACK");
    } catch (SqliteError const&) {  // the first trouble is the one to tell
    }
    throw;
  }
}

void use_full_sync(Database& database) { database.run("PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON;"); }

long long single(Database& database, char const* sql) {
  auto rows = database.ask(sql);
  return rows.next() ? rows.whole(0) : 0;
}

void upgrade(Database& database, long long from) {
  in_transaction(database, [&] {
    for (auto step = static_cast<std::size_t>(from); step < kSteps.size(); ++step) database.run(kSteps[step]);
    database.run("PRAGMA user_version=" + std::to_string(kSteps.size()));
    database.run("PRAGMA application_id=" + std::to_string(kApplication));
  });
}

/// A new ledger is made whole under another name, so that an empty file of the ledger's name is always one that was damaged.
Outcome create(fs::path const& path) {
  fs::path const fresh = path.native() + ".new";
  for (char const* ending : {"", "-wal", "-shm", "-journal"})
    if (auto const gone = remove_file(fresh.native() + ending); !gone) return gone;
  auto const made = ledger_guarded(fresh, [&] {
    Database database(fresh, true);
    use_full_sync(database);
    upgrade(database, 0);  // not with a write-ahead log yet: what its closing would do could fail unnoticed
    return true;
  });
  if (!made) return made.error();
  auto const end = move_file(fresh, path);
  if (!end) return end.error();
  return done();
}

Outcome check_file(fs::path const& path) {
  struct stat found {};
  if (::stat(path.c_str(), &found) != 0) return Error{ErrorKind::no_input, path.string() + ": the ledger cannot be opened: " + std::strerror(errno)};
  if (!S_ISREG(found.st_mode)) return Error{ErrorKind::data, path.string() + ": this is no file, so no ledger"};
  if (found.st_size == 0)
    return Error{
        ErrorKind::data,
        path.string() +
            ": the ledger is damaged: it is empty. Put the last backup in its place; to begin a new one, move it and what lies beside it away first"};
  return done();
}

Outcome check_version(Database& database, fs::path const& path, long long version) {
  if (single(database, "PRAGMA application_id") != kApplication)
    return Error{ErrorKind::data, path.string() + ": this is no ledger of layright, and was left as it is"};
  if (version > static_cast<long long>(kSteps.size()))
    return Error{ErrorKind::data, path.string() + ": the ledger was written by a newer layright (version " + std::to_string(version) +
                                      "; this one knows " + std::to_string(kSteps.size()) + "); use that one"};
  return done();
}

std::string like_pattern(std::string const& name) { return name.find_first_of("*?[") == std::string::npos ? "*" + name + "*" : name; }

}  // namespace

class Ledger::Connection {
 public:
  Connection(fs::path given) : path(std::move(given)), database(path, false) {}
  fs::path path;
  Database database;

  std::vector<LedgerEntry> entries(Rows rows) {
    std::vector<LedgerEntry> out;
    while (rows.next()) out.push_back(entry_of(rows));
    return out;
  }
  Rows filtered(char const* what, LedgerFilter const& filter, char const* order) {
    return database.ask(std::string("SELECT ") + what +
                            " FROM entry WHERE (?1='' OR state=?1) AND (?2='' OR date(arrived/1000,'unixepoch','localtime')=?2)"
                            " AND (?3='' OR CAST(name AS TEXT) GLOB ?3) AND (?4='' OR intake=?4) AND changed>=?5" +
                            order + " LIMIT ?6 OFFSET ?7",
                        filter.state ? text_of(*filter.state) : std::string(), filter.day,
                        filter.name.empty() ? std::string() : like_pattern(filter.name), filter.intake, filter.changed_since, filter.most,
                        filter.from);
  }
};

Ledger::Ledger(Ledger&&) noexcept = default;
Ledger& Ledger::operator=(Ledger&&) noexcept = default;
Ledger::~Ledger() = default;

Result<Ledger> Ledger::open(fs::path const& path, bool may_create) {
  if (!is_there(path)) {
    if (is_there(path.native() + "-wal"))
      return Error{ErrorKind::data, path.string() + ": the ledger is gone, but " + path.string() +
                                        "-wal, a part of it, is still there. Put both back, or move that away to begin a new one"};
    if (!may_create) return Error{ErrorKind::no_input, path.string() + ": there is no ledger yet; layright watch begins one"};
    if (auto const made = create(path); !made) return made.error();
  }
  if (auto const good = check_file(path); !good) return good.error();
  auto opened = ledger_guarded(path, [&]() -> Result<Ledger> {
    Ledger ledger;
    ledger.connection_ = std::make_unique<Connection>(path);
    auto& database = ledger.connection_->database;
    use_full_sync(database);
    auto const version = single(database, "PRAGMA user_version");
    if (auto const known = check_version(database, path, version); !known) return known.error();
    database.run("PRAGMA journal_mode=WAL");
    if (version < static_cast<long long>(kSteps.size())) upgrade(database, version);
    single(database, "SELECT count(*) FROM entry WHERE id=0");
    return ledger;
  });
  if (!opened) return opened.error();
  return std::move(*opened);
}

fs::path const& Ledger::path() const { return connection_->path; }

Outcome Ledger::change(std::function<void(LedgerChange&)> const& work) {
  auto const written = ledger_guarded(path(), [&] {
    Writes writes(connection_->database);
    in_transaction(connection_->database, [&] { work(writes); });
    return true;
  });
  if (!written) return written.error();
  return done();
}

Outcome Ledger::mark_watcher(std::string const& mark) {
  auto const written = ledger_guarded(path(), [&] {
    auto& database = connection_->database;
    in_transaction(database, [&] {
      database.put("DELETE FROM watcher");
      database.put("INSERT INTO watcher(mark) VALUES(?)", mark);
    });
    return single(database, "PRAGMA wal_checkpoint(FULL)");  // where others read it does not get so far: then the mark is not looked for
  });
  return written ? done() : Outcome(written.error());
}

void Ledger::abandon() { (void)connection_.release(); }

Result<std::optional<LedgerEntry>> Ledger::find(long long id) const {
  return ledger_guarded(path(), [&]() -> std::optional<LedgerEntry> {
    auto rows = connection_->database.ask(std::string("SELECT ") + kColumns + " FROM entry WHERE id=?", id);
    if (!rows.next()) return std::nullopt;
    return entry_of(rows);
  });
}

Result<std::optional<LedgerEntry>> Ledger::find_same(std::string const& digest, std::string const& intake, std::string const& target,
                                                     long long but) const {
  return ledger_guarded(path(), [&]() -> std::optional<LedgerEntry> {
    auto rows = connection_->database.ask(
        std::string("SELECT ") + kColumns + " FROM entry WHERE digest=? AND intake=? AND target=? AND id<>? ORDER BY id LIMIT 1", digest, intake,
        target, but);
    if (!rows.next()) return std::nullopt;
    return entry_of(rows);
  });
}

Result<bool> Ledger::knows(std::string const& digest) const {
  return ledger_guarded(path(), [&] { return connection_->database.ask("SELECT 1 FROM entry WHERE digest=? LIMIT 1", digest).next(); });
}

Result<std::vector<LedgerEntry>> Ledger::unfinished() const {
  return ledger_guarded(path(), [&] {
    return connection_->entries(connection_->database.ask(
        std::string("SELECT ") + kColumns +
        " FROM entry WHERE state IN ('moving','taken','placing') OR decision <> '' OR send IN ('wanted','sending') ORDER BY id"));
  });
}

Result<std::vector<LedgerOutput>> Ledger::outputs_of(long long entry) const {
  return ledger_guarded(path(), [&] {
    auto rows = connection_->database.ask(
        "SELECT id, entry, run, kind, path, digest, bytes, there, made, pages, copies FROM output WHERE entry=? ORDER BY id", entry);
    std::vector<LedgerOutput> out;
    while (rows.next())
      out.push_back({rows.whole(0), rows.whole(1), static_cast<int>(rows.whole(2)), rows.text(3), rows.text(4), rows.text(5), rows.whole(6),
                     rows.whole(7) != 0, rows.whole(8), static_cast<int>(rows.whole(9)), static_cast<int>(rows.whole(10))});
    return out;
  });
}

Result<std::vector<LedgerEvent>> Ledger::events_of(long long entry) const {
  return ledger_guarded(path(), [&] {
    auto rows = connection_->database.ask("SELECT entry, at, who, what, why FROM event WHERE entry=? ORDER BY rowid", entry);
    std::vector<LedgerEvent> out;
    while (rows.next()) out.push_back({rows.whole(0), rows.whole(1), rows.text(2), rows.text(3), rows.text(4)});
    return out;
  });
}

Outcome Ledger::list(LedgerFilter const& filter, std::function<void(LedgerEntry const&)> const& each) const {
  auto const listed = ledger_guarded(path(), [&] {
    auto rows = connection_->filtered(kColumns, filter, filter.newest_first ? " ORDER BY changed DESC, id DESC" : " ORDER BY id");
    while (rows.next()) each(entry_of(rows));
    return true;
  });
  if (!listed) return listed.error();
  return done();
}

Result<long long> Ledger::count(LedgerFilter filter) const {
  filter.from = 0;
  filter.most = -1;
  return ledger_guarded(path(), [&] {
    auto rows = connection_->filtered("count(*)", filter, "");
    return rows.next() ? rows.whole(0) : 0;
  });
}

Result<std::vector<SheetsRow>> Ledger::sheets() const {
  return ledger_guarded(path(), [&] {
    auto rows = connection_->database.ask(
        "SELECT day, target, sum(used), sum(planned), sum(spoiled), group_concat(DISTINCT nullif(why,'')) FROM ("
        "  SELECT date(coalesce(sent,made)/1000,'unixepoch','localtime') AS day, target, sheets*(1-waits) AS used, sheets*waits AS planned,"
        "    0 AS spoiled, '' AS why FROM ("
        // What was laid again has an earlier run, whose sending is over.
        "    SELECT e.target AS target, o.made AS made, o.pages*o.copies AS sheets,"
        "      o.run=e.run AND e.send IN ('wanted','sending','refused') AS waits,"
        "      CASE WHEN o.run=e.run THEN (SELECT max(v.at) FROM event v WHERE v.entry=e.id AND v.at>=o.made AND"
        "        v.what IN ('sent','film missing','film spoiled')) END AS sent"
        "      FROM output o JOIN entry e ON e.id=o.entry WHERE o.kind='pdf' AND o.there=1)"
        "  UNION ALL SELECT date(s.at/1000,'unixepoch','localtime'), e.target, 0, 0, s.sheets, s.why FROM spoiled s JOIN entry e ON e.id=s.entry)"
        " GROUP BY day, target ORDER BY day, target");
    std::vector<SheetsRow> out;
    while (rows.next()) out.push_back({rows.text(0), rows.text(1), rows.whole(2), rows.whole(3), rows.whole(4), rows.text(5)});
    return out;
  });
}

Result<std::vector<LedgerEntry>> Ledger::originals_before(std::string const& intake, long long before) const {
  return ledger_guarded(path(), [&] {
    return connection_->entries(connection_->database.ask(std::string("SELECT ") + kColumns +
                                                              " FROM entry WHERE intake=? AND changed<? AND state IN ('ready','discarded','skipped') "
                                                              "AND place<>x'' AND decision='' ORDER BY id LIMIT 100",
                                                          intake, before));
  });
}

Result<std::vector<KnownName>> Ledger::names_like(fs::path const& folder, std::string const& name) const {
  return ledger_guarded(path(), [&] {
    std::string const key = key_of(folder / name);
    auto rows = connection_->database.ask(
        "SELECT place, 0 FROM entry WHERE place_key=?1 UNION SELECT goes_to, 1 FROM entry WHERE goes_key=?1 AND state='moving'"
        " UNION SELECT path, there=0 FROM output WHERE path_key=?1",
        RawBytes{key});
    std::vector<KnownName> out;
    while (rows.next()) out.push_back({rows.text(0), rows.whole(1) != 0});
    return out;
  });
}

Result<std::vector<std::string>> Ledger::damage() const {
  auto found = ledger_guarded(path(), [&] {
    auto rows = connection_->database.ask("PRAGMA integrity_check");
    std::vector<std::string> out;
    while (rows.next())
      if (auto text = rows.text(0); text != "ok") out.push_back(std::move(text));
    return out;
  });
  if (!found && found.error().kind == ErrorKind::data) return std::vector<std::string>{found.error().message};
  return found;
}

Result<long long> Ledger::version_of_data() const {
  return ledger_guarded(path(), [&] { return single(connection_->database, "PRAGMA data_version"); });
}

}  // namespace layright
