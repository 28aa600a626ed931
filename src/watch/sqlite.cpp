#include "watch/sqlite.h"

#include <sqlite3.h>

namespace layright {
namespace {

constexpr int kWaitForOthersMs = 10000;

[[noreturn]] void complain_of(sqlite3* connection, int code) {
  if (!connection) throw SqliteError(code, sqlite3_errstr(code));
  throw SqliteError(sqlite3_extended_errcode(connection), sqlite3_errmsg(connection));
}

void must(sqlite3* connection, int code) {
  if (code != SQLITE_OK) complain_of(connection, code);
}

}  // namespace

Rows::~Rows() {
  if (!statement_) return;
  sqlite3_reset(statement_);
  sqlite3_clear_bindings(statement_);
}

bool Rows::next() {
  int const code = sqlite3_step(statement_);
  if (code == SQLITE_ROW) return true;
  if (code == SQLITE_DONE) return false;
  complain_of(sqlite3_db_handle(statement_), code);
}

long long Rows::whole(int column) const { return sqlite3_column_int64(statement_, column); }

std::string Rows::text(int column) const {
  auto const* const data = static_cast<char const*>(sqlite3_column_blob(statement_, column));
  return data ? std::string(data, static_cast<std::size_t>(sqlite3_column_bytes(statement_, column))) : std::string();
}

Database::Database(std::filesystem::path const& path, bool create) {
  int const flags = SQLITE_OPEN_READWRITE | (create ? SQLITE_OPEN_CREATE : 0) | SQLITE_OPEN_NOMUTEX;
  int const code = sqlite3_open_v2(path.c_str(), &connection_, flags, nullptr);
  if (code == SQLITE_OK) {
    sqlite3_extended_result_codes(connection_, 1);
    sqlite3_busy_timeout(connection_, kWaitForOthersMs);
    return;
  }
  std::string const why = connection_ ? sqlite3_errmsg(connection_) : sqlite3_errstr(code);
  sqlite3_close_v2(connection_);
  throw SqliteError(code, why);
}

Database::~Database() {
  for (auto const& [sql, statement] : statements_) sqlite3_finalize(statement);
  sqlite3_close_v2(connection_);
}

void Database::run(std::string const& sql) { must(connection_, sqlite3_exec(connection_, sql.c_str(), nullptr, nullptr, nullptr)); }

sqlite3_stmt* Database::prepared(std::string const& sql) {
  auto const found = statements_.find(sql);
  if (found != statements_.end()) return found->second;
  sqlite3_stmt* statement = nullptr;
  must(connection_, sqlite3_prepare_v3(connection_, sql.c_str(), static_cast<int>(sql.size()), SQLITE_PREPARE_PERSISTENT, &statement, nullptr));
  return statements_[sql] = statement;
}

void Database::bind(sqlite3_stmt* statement, int at, long long value) { must(connection_, sqlite3_bind_int64(statement, at, value)); }

void Database::bind(sqlite3_stmt* statement, int at, std::string const& value) {
  must(connection_, sqlite3_bind_text(statement, at, value.data(), static_cast<int>(value.size()), SQLITE_TRANSIENT));
}

void Database::bind(sqlite3_stmt* statement, int at, RawBytes value) {
  must(connection_, sqlite3_bind_blob(statement, at, value.bytes.data(), static_cast<int>(value.bytes.size()), SQLITE_TRANSIENT));
}

long long Database::last_id() const { return sqlite3_last_insert_rowid(connection_); }
bool Database::in_transaction() const { return sqlite3_get_autocommit(connection_) == 0; }

std::string plain_words(SqliteError const& trouble) {
  switch (trouble.code & 0xFF) {
    case SQLITE_FULL: return "the disk is full";
    case SQLITE_READONLY:
    case SQLITE_PERM: return "it may not be written to";
    case SQLITE_CANTOPEN: return "it cannot be opened";
    case SQLITE_NOMEM: return "memory ran out";
    default: return "the disk failed (SQLite " + std::to_string(trouble.code) + ")";
  }
}

bool is_damage(SqliteError const& trouble) {
  int const primary = trouble.code & 0xFF;
  return primary == SQLITE_CORRUPT || primary == SQLITE_NOTADB;
}
bool is_busy(SqliteError const& trouble) { return (trouble.code & 0xFF) == SQLITE_BUSY; }

}  // namespace layright
