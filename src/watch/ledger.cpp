#include "watch/ledger.h"

#include <limits>
#include <utility>

#include "base/utf8.h"
#include "watch/ledger_errors.h"
#include "watch/ledger_file.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

constexpr char const* kColumns =
    "id, intake, name, digest, device, inode, bytes, modified_ns, arrived, changed, state, next, place, goes_to, target, copies, run, tries, "
    "interrupted, verdict, reason, findings, same_as, decision, send, send_name, send_told, press_job, render";

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
    e.id = database_.single(
        std::string("INSERT INTO entry(") + kAllColumns + ") VALUES(?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?) RETURNING id",
        e.intake, RawBytes{e.name}, e.digest, e.mark.device, e.mark.inode, e.mark.bytes, e.mark.modified_ns, e.arrived, e.changed, text_of(e.state),
        text_of(e.next), RawBytes{e.place}, RawBytes{e.goes_to}, RawBytes{key_of(e.place)}, RawBytes{key_of(e.goes_to)}, e.target, e.copies, e.run,
        e.tries, e.interrupted, e.verdict, e.reason, e.findings, e.same_as, e.decision, e.send, e.send_name, e.send_reported, e.press_job, e.render);
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
    o.id = database_.single(
        "INSERT INTO output(entry, run, kind, path, path_key, digest, bytes, there, made, pages, copies) "
        "VALUES(?,?,?,?,?,?,?,?,?,?,?) RETURNING id",
        o.entry, o.run, o.kind, RawBytes{o.path}, RawBytes{key_of(o.path)}, o.digest, o.bytes, static_cast<int>(o.there), o.made, o.pages, o.copies);
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
      "intake, name, digest, device, inode, bytes, modified_ns, arrived, changed, state, next, place, goes_to, place_key, goes_key, target, "
      "copies, run, tries, interrupted, verdict, reason, findings, same_as, decision, send, send_name, send_told, press_job, render";
  Database& database_;
};

std::string like_pattern(std::string const& name) { return name.find_first_of("*?[") == std::string::npos ? "*" + name + "*" : name; }

std::vector<LedgerEntry> entries_of(RowSource& rows) {
  std::vector<LedgerEntry> out;
  while (rows.next()) out.push_back(entry_of(rows));
  return out;
}

std::optional<LedgerEntry> first_of(RowSource& rows) { return rows.next() ? std::optional(entry_of(rows)) : std::nullopt; }

Rows filtered(Database& database, char const* what, LedgerFilter const& filter, char const* order) {
  return database.ask(std::string("SELECT ") + what + " FROM entry WHERE (?1='' OR state=?1) AND (?2='' OR " + database.day_of("arrived") +
                          "=?2) AND (?3='' OR " + database.matches("name", "?3") + ") AND (?4='' OR intake=?4) AND changed>=?5" + order +
                          " LIMIT ?6 OFFSET ?7",
                      filter.state ? text_of(*filter.state) : std::string(), filter.day,
                      filter.name.empty() ? std::string() : database.pattern_value(like_pattern(filter.name)), filter.intake, filter.changed_since,
                      filter.most < 0 ? std::numeric_limits<long long>::max() : filter.most, filter.from);
}

}  // namespace

Ledger::Ledger(fs::path path, std::unique_ptr<Database> database) : path_(std::move(path)), database_(std::move(database)) {}
Ledger::Ledger(Ledger&&) noexcept = default;
Ledger& Ledger::operator=(Ledger&&) noexcept = default;
Ledger::~Ledger() = default;

Result<Ledger> Ledger::open(fs::path const& path, bool may_create) {
  auto opened = open_ledger_file(path, may_create);
  if (!opened) return opened.error();
  return Ledger(path, std::move(*opened));
}

Outcome Ledger::change(std::function<void(LedgerChange&)> const& work) {
  auto const written = ledger_guarded(path_, [&] {
    Writes writes(*database_);
    database_->transact([&] { work(writes); });
    return true;
  });
  if (!written) return written.error();
  return done();
}

Outcome Ledger::mark_watcher(std::string const& mark) {
  auto const written = ledger_guarded(path_, [&] {
    database_->transact([&] {
      database_->put("DELETE FROM watcher");
      database_->put("INSERT INTO watcher(mark) VALUES(?)", mark);
    });
    database_->write_through();  // where others read it does not get so far: then the mark is not looked for
    return true;
  });
  return written ? done() : Outcome(written.error());
}

void Ledger::abandon() { (void)database_.release(); }

Result<std::optional<LedgerEntry>> Ledger::find(long long id) const {
  return ledger_guarded(path_, [&]() -> std::optional<LedgerEntry> {
    return first_of(*database_->ask(std::string("SELECT ") + kColumns + " FROM entry WHERE id=?", id));
  });
}

Result<std::optional<LedgerEntry>> Ledger::find_same(std::string const& digest, std::string const& intake, std::string const& target,
                                                     long long but) const {
  return ledger_guarded(path_, [&]() -> std::optional<LedgerEntry> {
    return first_of(
        *database_->ask(std::string("SELECT ") + kColumns + " FROM entry WHERE digest=? AND intake=? AND target=? AND id<>? ORDER BY id LIMIT 1",
                        digest, intake, target, but));
  });
}

Result<bool> Ledger::knows(std::string const& digest) const {
  return ledger_guarded(path_, [&] { return database_->ask("SELECT 1 FROM entry WHERE digest=? LIMIT 1", digest)->next(); });
}

Result<std::vector<LedgerEntry>> Ledger::unfinished() const {
  return ledger_guarded(path_, [&] {
    return entries_of(
        *database_->ask(std::string("SELECT ") + kColumns +
                        " FROM entry WHERE state IN ('moving','taken','placing') OR decision <> '' OR send IN ('wanted','sending') ORDER BY id"));
  });
}

Result<std::vector<LedgerOutput>> Ledger::outputs_of(long long entry) const {
  return ledger_guarded(path_, [&] {
    auto rows =
        database_->ask("SELECT id, entry, run, kind, path, digest, bytes, there, made, pages, copies FROM output WHERE entry=? ORDER BY id", entry);
    std::vector<LedgerOutput> out;
    while (rows->next())
      out.push_back({rows->whole(0), rows->whole(1), static_cast<int>(rows->whole(2)), rows->text(3), rows->text(4), rows->text(5), rows->whole(6),
                     rows->whole(7) != 0, rows->whole(8), static_cast<int>(rows->whole(9)), static_cast<int>(rows->whole(10))});
    return out;
  });
}

Result<std::vector<LedgerEvent>> Ledger::events_of(long long entry) const {
  return ledger_guarded(path_, [&] {
    auto rows = database_->ask("SELECT entry, at, who, what, why FROM event WHERE entry=? ORDER BY rowid", entry);
    std::vector<LedgerEvent> out;
    while (rows->next()) out.push_back({rows->whole(0), rows->whole(1), rows->text(2), rows->text(3), rows->text(4)});
    return out;
  });
}

Outcome Ledger::list(LedgerFilter const& filter, std::function<void(LedgerEntry const&)> const& each) const {
  auto const listed = ledger_guarded(path_, [&] {
    auto rows = filtered(*database_, kColumns, filter, filter.newest_first ? " ORDER BY changed DESC, id DESC" : " ORDER BY id");
    while (rows->next()) each(entry_of(*rows));
    return true;
  });
  if (!listed) return listed.error();
  return done();
}

Result<long long> Ledger::count(LedgerFilter filter) const {
  filter.from = 0;
  filter.most = -1;
  return ledger_guarded(path_, [&] {
    auto rows = filtered(*database_, "count(*)", filter, "");
    return rows->next() ? rows->whole(0) : 0;
  });
}

Result<std::vector<SheetsRow>> Ledger::sheets() const {
  return ledger_guarded(path_, [&] {
    auto const rows =
        database_->ask("SELECT day, target, sum(used), sum(planned), sum(spoiled), " + database_->joined("nullif(why,'')") +
                       " FROM ("
                       "  SELECT " +
                       database_->day_of("coalesce(sent,made)") +
                       " AS day, target, CASE WHEN waits THEN 0 ELSE sheets END AS used, CASE WHEN waits THEN sheets ELSE 0 END AS planned,"
                       "    0 AS spoiled, '' AS why FROM ("
                       // What was laid again has an earlier run, whose sending is over.
                       "    SELECT e.target AS target, o.made AS made, o.pages*o.copies AS sheets,"
                       "      o.run=e.run AND e.send IN ('wanted','sending','refused') AS waits,"
                       "      CASE WHEN o.run=e.run THEN (SELECT max(v.at) FROM event v WHERE v.entry=e.id AND v.at>=o.made AND"
                       "        v.what IN ('sent','film missing','film spoiled')) END AS sent"
                       "      FROM output o JOIN entry e ON e.id=o.entry WHERE o.kind='pdf' AND o.there=1) AS laid"
                       "  UNION ALL SELECT " +
                       database_->day_of("s.at") +
                       ", e.target, 0, 0, s.sheets, s.why FROM spoiled s JOIN entry e ON e.id=s.entry) AS film"
                       " GROUP BY day, target ORDER BY day, target");
    std::vector<SheetsRow> out;
    while (rows->next()) out.push_back({rows->text(0), rows->text(1), rows->whole(2), rows->whole(3), rows->whole(4), rows->text(5)});
    return out;
  });
}

Result<std::vector<LedgerEntry>> Ledger::originals_before(std::string const& intake, long long before) const {
  return ledger_guarded(path_, [&] {
    return entries_of(*database_->ask(std::string("SELECT ") + kColumns +
                                          " FROM entry WHERE intake=? AND changed<? AND state IN ('ready','discarded','skipped') "
                                          "AND length(place)>0 AND decision='' ORDER BY id LIMIT 100",
                                      intake, before));
  });
}

Result<std::vector<KnownName>> Ledger::names_like(fs::path const& folder, std::string const& name) const {
  return ledger_guarded(path_, [&] {
    std::string const key = key_of(folder / name);
    auto rows = database_->ask(
        "SELECT place, 0 FROM entry WHERE place_key=?1 UNION SELECT goes_to, 1 FROM entry WHERE goes_key=?1 AND state='moving'"
        " UNION SELECT path, CASE WHEN there=0 THEN 1 ELSE 0 END FROM output WHERE path_key=?1",
        RawBytes{key});
    std::vector<KnownName> out;
    while (rows->next()) out.push_back({rows->text(0), rows->whole(1) != 0});
    return out;
  });
}

Result<std::vector<std::string>> Ledger::damage() const {
  auto found = ledger_guarded(path_, [&] { return database_->damage(); });
  if (!found && found.error().kind == ErrorKind::data) return std::vector<std::string>{found.error().message};
  return found;
}

Result<long long> Ledger::version_of_data() const {
  return ledger_guarded(path_, [&] { return database_->version_of_data(); });
}

}  // namespace layright
