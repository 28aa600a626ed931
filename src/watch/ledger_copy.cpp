#include "watch/ledger_copy.h"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <utility>

#include "base/sha256.h"
#include "base/utf8.h"
#include "sheet/ledger_address.h"
#include "watch/ledger.h"
#include "watch/ledger_errors.h"
#include "watch/ledger_file.h"
#include "watch/ledger_lock.h"
#include "watch/ledger_server.h"

namespace layright {
namespace {

namespace fs = std::filesystem;
using Column = Database::Column;

/// One side: nobody else's while it lasts.
struct Side {
  std::optional<LedgerLock> lock;
  std::unique_ptr<Database> database;
};

Result<Side> open_side(fs::path const& path, bool may_create) {
  Side side;
  if (is_server_address(path.native())) {
    if (lock_holder(path) != 0) return Error{ErrorKind::try_again, path.string() + ": a desk works with this ledger; stop them all first"};
  } else {
    auto lock = LedgerLock::take(path);
    if (!lock) return lock.error();
    side.lock = std::move(*lock);
  }
  auto opened = is_server_address(path.native()) ? open_ledger_server(path, may_create) : open_ledger_file(path, may_create);
  if (!opened) return opened.error();
  side.database = std::move(*opened);
  return side;
}

/// What both have; not what tells who works with one of them, nor what only orders its rows.
std::vector<std::string> common_tables(Database& a, Database& b) {
  auto const others = b.tables();
  std::vector<std::string> out;
  for (auto const& table : a.tables())
    if (table != "watcher" && std::find(others.begin(), others.end(), table) != others.end()) out.push_back(table);
  std::stable_partition(out.begin(), out.end(), [](std::string const& table) { return table == "entry"; });  // others name its rows
  return out;
}

std::vector<Column> common_columns(Database& a, Database& b, std::string const& table) {
  auto const others = b.columns(table);
  std::vector<Column> out;
  for (auto const& column : a.columns(table))
    if (std::any_of(others.begin(), others.end(), [&](Column const& each) { return each.name == column.name; })) out.push_back(column);
  std::erase_if(out, [](Column const& each) { return each.name == "rowid"; });
  return out;
}

bool has_numbers(std::vector<Column> const& columns) {
  return std::any_of(columns.begin(), columns.end(), [](Column const& each) { return each.name == "id"; });
}

std::string names_of(std::vector<Column> const& columns) {
  std::string out;
  for (auto const& each : columns) out += (out.empty() ? "" : ", ") + each.name;
  return out;
}

Rows all_rows(Database& database, std::string const& table, std::vector<Column> const& columns) {
  auto const order = has_numbers(columns) ? "id" : table == "event" || !database.is_shared() ? "rowid" : "1";
  return database.ask("SELECT " + names_of(columns) + " FROM " + table + " ORDER BY " + order);
}

std::string as_server_text(std::string const& text) {
  auto valid = valid_utf8(text);
  std::erase(valid, '\0');
  return valid;
}

long long copy_table(Database& from, Database& to, std::string const& table, std::vector<Column> const& columns) {
  std::string places;
  for (std::size_t i = 0; i < columns.size(); ++i) places += i == 0 ? "?" : ",?";
  auto const sql = "INSERT INTO " + table + "(" + names_of(columns) + ") VALUES(" + places + ")";
  auto const rows = all_rows(from, table, columns);
  long long mended = 0;
  while (rows->next()) {
    std::vector<std::string> texts(columns.size());
    std::vector<DatabaseValue> values;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      if (columns[i].whole) {
        values.emplace_back(rows->whole(static_cast<int>(i)));
        continue;
      }
      texts[i] = rows->text(static_cast<int>(i));
      if (columns[i].bytes) {
        values.emplace_back(RawBytes{texts[i]});
        continue;
      }
      if (to.is_shared() && as_server_text(texts[i]) != texts[i]) ++mended;
      values.emplace_back(std::as_const(texts[i]));
    }
    auto const written = to.ask_with(sql, values);
    while (written->next()) {
    }
  }
  if (has_numbers(columns)) to.go_on_counting(table);
  return mended;
}

/// Over its rows: in their order where they have one, else each for itself.
LedgerCopy::Table digest_of_table(Database& database, std::string const& table, std::vector<Column> const& columns, bool as_server) {
  LedgerCopy::Table out{table, 0, {}};
  auto const rows = all_rows(database, table, columns);
  std::vector<std::string> each;
  for (; rows->next(); ++out.rows) {
    Sha256 row;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      auto const at = static_cast<int>(i);
      auto const text = columns[i].whole                 ? std::to_string(rows->whole(at))
                        : as_server && !columns[i].bytes ? as_server_text(rows->text(at))
                                                         : rows->text(at);
      row.add(std::to_string(text.size()) + ":");
      row.add(text);
    }
    each.push_back(hexadecimal(row.finish()));
  }
  if (!has_numbers(columns) && table != "event") std::sort(each.begin(), each.end());
  Sha256 whole;
  for (auto const& row : each) whole.add(row);
  out.digest = hexadecimal(whole.finish());
  return out;
}

Outcome copy_and_compare(Database& source, Database& target, fs::path const& to, LedgerCopy& sum) {
  if (target.single("SELECT count(*) FROM entry") > 0)
    return Error{ErrorKind::cannot_create, to.string() + ": this ledger has jobs already; name a new one, or an empty database"};
  bool const as_server = source.is_shared() || target.is_shared();
  auto const tables = common_tables(source, target);
  for (auto const& table : tables) source.keep_writers_out(table);
  for (auto const& table : tables) sum.mended += copy_table(source, target, table, common_columns(source, target, table));
  for (auto const& table : tables) {
    auto const columns = common_columns(source, target, table);
    auto const was = digest_of_table(source, table, columns, as_server), is = digest_of_table(target, table, columns, as_server);
    if (was.rows != is.rows || was.digest != is.digest)
      return Error{ErrorKind::data, to.string() + ": the copy of the table " + table + " differs (" + std::to_string(was.rows) + " and " +
                                        std::to_string(is.rows) + " rows); nothing was kept of it"};
    sum.tables.push_back(is);
  }
  return done();
}

}  // namespace

Result<LedgerCopy> copy_ledger(fs::path const& from, fs::path const& to) {
  if (from == to) return usage_error("ledger copy: FROM and TO are the same");
  auto source = open_side(from, false);
  if (!source) return source.error();
  auto target = open_side(to, true);
  if (!target) return target.error();
  LedgerCopy sum;
  try {
    auto const copied = ledger_guarded(to, [&] {
      source->database->transact([&] {
        target->database->transact([&] {
          if (auto const compared = copy_and_compare(*source->database, *target->database, to, sum); !compared) throw ChangeGivenUp{compared.error()};
        });
      });
      return true;
    });
    if (!copied) return copied.error();
  } catch (ChangeGivenUp const& given_up) {
    return given_up.error;
  }
  return sum;
}

}  // namespace layright
