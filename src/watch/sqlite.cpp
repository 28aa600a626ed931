#include "watch/sqlite.h"

#include <sqlite3.h>

namespace layright {
namespace {

constexpr int kWaitForOthersMs = 10000;

/// What it means for whoever keeps the ledger.
std::string plain_words(int code) {
  switch (code & 0xFF) {
    case SQLITE_FULL: return "the disk is full";
    case SQLITE_READONLY:
    case SQLITE_PERM: return "it may not be written to";
    case SQLITE_CANTOPEN: return "it cannot be opened";
    case SQLITE_NOMEM: return "memory ran out";
    default: return "the disk failed (SQLite " + std::to_string(code) + ")";
  }
}

[[noreturn]] void complain_of(sqlite3* connection, int code) {
  if (connection) code = sqlite3_extended_errcode(connection);
  int const primary = code & 0xFF;
  bool const damaged = primary == SQLITE_CORRUPT || primary == SQLITE_NOTADB;
  throw DatabaseError(damaged                  ? DatabaseError::Kind::damaged
                      : primary == SQLITE_BUSY ? DatabaseError::Kind::busy
                                               : DatabaseError::Kind::failed,
                      plain_words(code));
}

void must(sqlite3* connection, int code) {
  if (code != SQLITE_OK) complain_of(connection, code);
}

int bind(sqlite3_stmt* statement, int at, DatabaseValue const& value) {
  auto const size = static_cast<int>(value.bytes.size());
  switch (value.kind) {
    case DatabaseValue::Kind::whole: return sqlite3_bind_int64(statement, at, value.whole);
    case DatabaseValue::Kind::text: return sqlite3_bind_text(statement, at, value.bytes.data(), size, SQLITE_TRANSIENT);
    default: return sqlite3_bind_blob(statement, at, value.bytes.data(), size, SQLITE_TRANSIENT);
  }
}

/// Its statement is free again when it goes.
class SqliteRows : public RowSource {
 public:
  explicit SqliteRows(sqlite3_stmt* statement) : statement_(statement) {}
  SqliteRows(SqliteRows const&) = delete;
  SqliteRows& operator=(SqliteRows const&) = delete;
  ~SqliteRows() override {
    sqlite3_reset(statement_);
    sqlite3_clear_bindings(statement_);
  }
  bool next() override {
    int const code = sqlite3_step(statement_);
    if (code == SQLITE_ROW) return true;
    if (code == SQLITE_DONE) return false;
    complain_of(sqlite3_db_handle(statement_), code);
  }
  long long whole(int column) const override { return sqlite3_column_int64(statement_, column); }
  std::string text(int column) const override {
    auto const* const data = static_cast<char const*>(sqlite3_column_blob(statement_, column));
    return data ? std::string(data, static_cast<std::size_t>(sqlite3_column_bytes(statement_, column))) : std::string();
  }

 private:
  sqlite3_stmt* statement_;
};

}  // namespace

SqliteDatabase::SqliteDatabase(std::filesystem::path const& path, bool create) {
  int const flags = SQLITE_OPEN_READWRITE | (create ? SQLITE_OPEN_CREATE : 0) | SQLITE_OPEN_NOMUTEX;
  int const code = sqlite3_open_v2(path.c_str(), &connection_, flags, nullptr);
  if (code == SQLITE_OK) {
    sqlite3_extended_result_codes(connection_, 1);
    sqlite3_busy_timeout(connection_, kWaitForOthersMs);
    return;
  }
  sqlite3_close_v2(connection_);
  complain_of(nullptr, code);
}

SqliteDatabase::~SqliteDatabase() {
  for (auto const& [sql, statement] : statements_) sqlite3_finalize(statement);
  sqlite3_close_v2(connection_);
}

void SqliteDatabase::run(std::string const& sql) { must(connection_, sqlite3_exec(connection_, sql.c_str(), nullptr, nullptr, nullptr)); }

sqlite3_stmt* SqliteDatabase::prepared(std::string const& sql) {
  auto const found = statements_.find(sql);
  if (found != statements_.end()) return found->second;
  sqlite3_stmt* statement = nullptr;
  must(connection_, sqlite3_prepare_v3(connection_, sql.c_str(), static_cast<int>(sql.size()), SQLITE_PREPARE_PERSISTENT, &statement, nullptr));
  return statements_[sql] = statement;
}

Rows SqliteDatabase::ask_with(std::string const& sql, std::span<DatabaseValue const> values) {
  auto* const statement = prepared(sql);
  auto rows = std::make_unique<SqliteRows>(statement);
  for (std::size_t i = 0; i < values.size(); ++i) must(connection_, bind(statement, static_cast<int>(i) + 1, values[i]));
  return rows;
}

void SqliteDatabase::roll_back() noexcept {  // the first trouble is the one to tell
  if (sqlite3_get_autocommit(connection_) == 0) sqlite3_exec(connection_, "ROLLBACK", nullptr, nullptr, nullptr);
}

std::vector<std::string> SqliteDatabase::tables() {
  auto const rows = ask("SELECT name FROM sqlite_master WHERE type='table' AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY rowid");
  std::vector<std::string> out;
  while (rows->next()) out.push_back(rows->text(0));
  return out;
}

std::vector<Database::Column> SqliteDatabase::columns(std::string const& table) {
  auto const rows = ask("SELECT name, type FROM pragma_table_info(?)", table);
  std::vector<Column> out;
  while (rows->next()) out.push_back({rows->text(0), rows->text(1) == "INTEGER", rows->text(1) == "BLOB"});
  return out;
}

std::vector<std::string> SqliteDatabase::damage() {
  auto const rows = ask("PRAGMA integrity_check");
  std::vector<std::string> out;
  while (rows->next())
    if (auto text = rows->text(0); text != "ok") out.push_back(std::move(text));
  return out;
}

}  // namespace layright
