#include "watch/ledger.h"

#include <chrono>
#include <cstdio>
#include <limits>
#include <utility>

#include "sheet/ledger_address.h"
#include "watch/ledger_errors.h"
#include "watch/ledger_file.h"
#include "watch/ledger_rows.h"
#include "watch/ledger_server.h"
#include "watch/ledger_writes.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

std::string same_bytes() {
  return std::string("SELECT ") + kEntryColumns + " FROM entry WHERE digest=? AND intake=? AND target=? AND id<>? ORDER BY id LIMIT 1";
}

std::string like_pattern(std::string const& name) { return name.find_first_of("*?[") == std::string::npos ? "*" + name + "*" : name; }

std::vector<LedgerEntry> entries_of(RowSource& rows) {
  std::vector<LedgerEntry> out;
  while (rows.next()) out.push_back(entry_of(rows));
  return out;
}

std::optional<LedgerEntry> first_of(RowSource& rows) { return rows.next() ? std::optional(entry_of(rows)) : std::nullopt; }

/// SQL that keeps a list of one day from looking at all the others: two days around it, whatever the time zone. Empty where it is no date.
std::string around_day(std::string const& day) {
  int year = 0, month = 0, of_month = 0;
  if (std::sscanf(day.c_str(), "%4d-%2d-%2d", &year, &month, &of_month) != 3) return {};
  std::chrono::year_month_day const date(std::chrono::year(year), std::chrono::month(static_cast<unsigned>(month)),
                                         std::chrono::day(static_cast<unsigned>(of_month)));
  if (!date.ok()) return {};
  long long const from = std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::sys_days(date).time_since_epoch()).count();
  constexpr long long kDay = 24LL * 3600 * 1000;
  return " AND arrived>=" + std::to_string(from - kDay) + " AND arrived<" + std::to_string(from + 2 * kDay);
}

Rows filtered(Database& database, char const* what, LedgerFilter const& filter, char const* order) {
  return database.ask(std::string("SELECT ") + what + " FROM entry WHERE (?1='' OR state=?1) AND (?2='' OR " + database.day_of("arrived") +
                          "=?2) AND (?3='' OR " + database.matches("name", "?3") + ") AND (?4='' OR intake=?4) AND changed>=?5" +
                          around_day(filter.day) + order + " LIMIT ?6 OFFSET ?7",
                      filter.state ? std::string(word(*filter.state)) : std::string(), filter.day,
                      filter.name.empty() ? std::string() : database.pattern_value(like_pattern(filter.name)), filter.intake, filter.changed_since,
                      filter.most < 0 ? std::numeric_limits<long long>::max() : filter.most, filter.from);
}

}  // namespace

Ledger::Ledger(fs::path path, std::unique_ptr<Database> database) : path_(std::move(path)), database_(std::move(database)) {}
Ledger::Ledger(Ledger&&) noexcept = default;
Ledger& Ledger::operator=(Ledger&&) noexcept = default;
Ledger::~Ledger() = default;

Result<Ledger> Ledger::open(fs::path const& path, bool may_create) {
  auto opened = is_server_address(path.native()) ? open_ledger_server(path, may_create) : open_ledger_file(path, may_create);
  if (!opened) return opened.error();
  return Ledger(path, std::move(*opened));
}

Outcome Ledger::change(std::function<void(LedgerChange&)> const& work) {
  overtaken_ = Overtaken::no;
  try {
    auto const written = ledger_guarded(path_, [&] {
      LedgerWrites writes(*database_, desk_, lease_);
      try {
        database_->transact([&] { work(writes); });
      } catch (DatabaseError const& trouble) {
        if (trouble.kind == DatabaseError::Kind::lease_lost) overtaken_ = Overtaken::lease;
        if (trouble.kind == DatabaseError::Kind::taken) overtaken_ = Overtaken::name;
        throw;
      }
      return true;
    });
    return written ? done() : Outcome(written.error());
  } catch (ChangeGivenUp const& given_up) {
    return given_up.error;
  }
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
    return first_of(*database_->ask(std::string("SELECT ") + kEntryColumns + " FROM entry WHERE id=?" + database_->for_update(), id));
  });
}

Result<std::optional<LedgerEntry>> Ledger::find_same(std::string const& digest, std::string const& intake, std::string const& target,
                                                     long long but) const {
  return ledger_guarded(path_, [&]() -> std::optional<LedgerEntry> { return first_of(*database_->ask(same_bytes(), digest, intake, target, but)); });
}

Result<std::vector<std::optional<LedgerEntry>>> Ledger::find_same(std::vector<std::pair<std::string, std::string>> const& arrivals,
                                                                  std::string const& intake) const {
  return ledger_guarded(path_, [&] {
    std::vector<std::vector<DatabaseValue>> sets;
    for (auto const& [digest, target] : arrivals)
      sets.push_back({DatabaseValue(digest), DatabaseValue(intake), DatabaseValue(target), DatabaseValue(0)});
    std::vector<std::optional<LedgerEntry>> found(arrivals.size());
    database_->ask_each(same_bytes(), sets, [&](std::size_t i, RowSource& rows) { found[i] = first_of(rows); });
    return found;
  });
}

Result<bool> Ledger::knows(std::string const& digest) const {
  return ledger_guarded(path_, [&] { return database_->ask("SELECT 1 FROM entry WHERE digest=? LIMIT 1", digest)->next(); });
}

Result<std::vector<LedgerEntry>> Ledger::unfinished() const {
  return ledger_guarded(path_, [&] {
    return entries_of(*database_->ask(std::string("SELECT ") + kEntryColumns + " FROM entry WHERE " + kUnfinished + " ORDER BY id"));
  });
}

Result<std::vector<LedgerEntry>> Ledger::waiting(std::string const& intake) const {
  return ledger_guarded(path_, [&] {
    return entries_of(*database_->ask(
        std::string("SELECT ") + kEntryColumns + " FROM entry WHERE state='waiting' AND batch=0 AND decision='' AND intake=? ORDER BY id", intake));
  });
}

Result<std::vector<LedgerEntry>> Ledger::members_of(long long batch) const {
  return ledger_guarded(path_, [&] {
    return entries_of(*database_->ask(
        std::string("SELECT ") + kEntryColumns + " FROM entry WHERE batch>0 AND batch=?1 AND id<>?1 ORDER BY id" + database_->for_update(), batch));
  });
}

Result<std::vector<LedgerOutput>> Ledger::outputs_of(long long entry) const {
  return ledger_guarded(path_, [&] {
    auto rows = database_->ask(
        "SELECT id, entry, run, kind, path, digest, bytes, there, made, pages, copies, toner, currency FROM output WHERE entry=? ORDER BY id", entry);
    std::vector<LedgerOutput> out;
    while (rows->next())
      out.push_back({rows->whole(0),
                     rows->whole(1),
                     static_cast<int>(rows->whole(2)),
                     rows->text(3),
                     rows->text(4),
                     rows->text(5),
                     rows->whole(6),
                     rows->whole(7) != 0,
                     rows->whole(8),
                     static_cast<int>(rows->whole(9)),
                     static_cast<int>(rows->whole(10)),
                     {rows->whole(11), rows->text(12)}});
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
    auto rows = filtered(*database_, kEntryColumns, filter, filter.newest_first ? " ORDER BY changed DESC, id DESC" : " ORDER BY id");
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
    auto const rows = database_->ask(
        "SELECT day, target, sum(used), sum(planned), sum(spoiled), " + database_->joined("nullif(why,'')") +
        ", sum(toner), max(currency), sum(not_known)"
        " FROM ("
        "  SELECT " +
        database_->day_of("coalesce(sent,made)") +
        " AS day, target, CASE WHEN waits THEN 0 ELSE sheets END AS used, CASE WHEN waits THEN sheets ELSE 0 END AS planned,"
        "    0 AS spoiled, '' AS why, CASE WHEN waits THEN 0 ELSE toner END AS toner, currency, CASE WHEN waits THEN 0 ELSE not_known END AS "
        "not_known FROM ("
        // What was laid again has an earlier run, whose sending is over.
        "    SELECT e.target AS target, o.made AS made, o.pages*o.copies AS sheets, o.currency AS currency,"
        "      CASE WHEN o.toner<0 THEN 0 ELSE o.toner*o.copies END AS toner, CASE WHEN o.toner<0 THEN o.pages*o.copies ELSE 0 END AS not_known,"
        "      o.run=e.run AND e.send IN ('wanted','sending','refused') AS waits,"
        "      CASE WHEN o.run=e.run THEN (SELECT max(v.at) FROM event v WHERE v.entry=e.id AND v.at>=o.made AND"
        "        v.what IN ('sent','film missing','film spoiled')) END AS sent"
        "      FROM output o JOIN entry e ON e.id=o.entry WHERE o.kind='pdf' AND o.there=1) AS laid"
        "  UNION ALL SELECT " +
        database_->day_of("s.at") +
        ", e.target, 0, 0, s.sheets, s.why, 0, '', 0 FROM spoiled s JOIN entry e ON e.id=s.entry) AS film"
        " GROUP BY day, target ORDER BY day, target");
    std::vector<SheetsRow> out;
    while (rows->next())
      out.push_back({rows->text(0),
                     rows->text(1),
                     rows->whole(2),
                     rows->whole(3),
                     rows->whole(4),
                     rows->text(5),
                     {rows->whole(6), rows->text(7)},
                     rows->whole(8)});
    return out;
  });
}

Result<std::vector<LedgerEntry>> Ledger::originals_before(std::string const& intake, long long before) const {
  return ledger_guarded(path_, [&] {
    return entries_of(*database_->ask(std::string("SELECT ") + kEntryColumns +
                                          " FROM entry WHERE intake=? AND changed<? AND state IN ('ready','discarded','skipped') "
                                          "AND length(place)>0 AND decision='' ORDER BY id LIMIT 100",
                                      intake, before));
  });
}

Result<std::vector<KnownName>> Ledger::names_like(fs::path const& folder, std::string const& name) const {
  auto found = names_like({folder / name});
  if (!found) return found.error();
  return std::move(found->front());
}

Result<std::vector<std::vector<KnownName>>> Ledger::names_like(std::vector<fs::path> const& paths) const {
  return ledger_guarded(path_, [&] {
    std::vector<std::string> keys;
    for (auto const& path : paths) keys.push_back(ledger_key(path));
    std::vector<std::vector<DatabaseValue>> sets;
    for (auto const& key : keys) sets.push_back({DatabaseValue(RawBytes{key})});
    std::vector<std::vector<KnownName>> out(paths.size());
    database_->ask_each(
        "SELECT place, 0 FROM entry WHERE place_key=?1 UNION SELECT goes_to, 1 FROM entry WHERE goes_key=?1 AND state='moving'"
        " UNION SELECT path, CASE WHEN there=0 THEN 1 ELSE 0 END FROM output WHERE path_key=?1",
        sets, [&](std::size_t i, RowSource& rows) {
          while (rows.next()) out[i].push_back({rows.text(0), rows.whole(1) != 0});
        });
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
