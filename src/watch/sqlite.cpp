#include "watch/sqlite.h"

#include <dlfcn.h>
#include <sqlite3.h>

namespace layright {
namespace {

/// The functions that are used of the library, by their own types.
struct Library {
  decltype(&sqlite3_open_v2) open_v2;
  decltype(&sqlite3_close_v2) close_v2;
  decltype(&sqlite3_exec) exec;
  decltype(&sqlite3_prepare_v3) prepare_v3;
  decltype(&sqlite3_finalize) finalize;
  decltype(&sqlite3_step) step;
  decltype(&sqlite3_reset) reset;
  decltype(&sqlite3_clear_bindings) clear_bindings;
  decltype(&sqlite3_bind_int64) bind_int64;
  decltype(&sqlite3_bind_text) bind_text;
  decltype(&sqlite3_bind_blob) bind_blob;
  decltype(&sqlite3_column_int64) column_int64;
  decltype(&sqlite3_column_blob) column_blob;
  decltype(&sqlite3_column_bytes) column_bytes;
  decltype(&sqlite3_db_handle) db_handle;
  decltype(&sqlite3_errmsg) errmsg;
  decltype(&sqlite3_errstr) errstr;
  decltype(&sqlite3_extended_errcode) extended_errcode;
  decltype(&sqlite3_extended_result_codes) extended_result_codes;
  decltype(&sqlite3_busy_timeout) busy_timeout;
  decltype(&sqlite3_last_insert_rowid) last_insert_rowid;
  decltype(&sqlite3_get_autocommit) get_autocommit;
};

template <class Function>
void find(void* library, char const* name, Function& into) {
  into = reinterpret_cast<Function>(dlsym(library, name));
  if (!into) throw std::runtime_error(std::string("the SQLite library of this machine has no ") + name);
}

Library load() {
  void* const library = dlopen("libsqlite3.so.0", RTLD_NOW | RTLD_LOCAL);
  if (!library) throw std::runtime_error(std::string("SQLite cannot be loaded: ") + dlerror() + "; install libsqlite3-0");
  Library l{};
  find(library, "sqlite3_open_v2", l.open_v2);
  find(library, "sqlite3_close_v2", l.close_v2);
  find(library, "sqlite3_exec", l.exec);
  find(library, "sqlite3_prepare_v3", l.prepare_v3);
  find(library, "sqlite3_finalize", l.finalize);
  find(library, "sqlite3_step", l.step);
  find(library, "sqlite3_reset", l.reset);
  find(library, "sqlite3_clear_bindings", l.clear_bindings);
  find(library, "sqlite3_bind_int64", l.bind_int64);
  find(library, "sqlite3_bind_text", l.bind_text);
  find(library, "sqlite3_bind_blob", l.bind_blob);
  find(library, "sqlite3_column_int64", l.column_int64);
  find(library, "sqlite3_column_blob", l.column_blob);
  find(library, "sqlite3_column_bytes", l.column_bytes);
  find(library, "sqlite3_db_handle", l.db_handle);
  find(library, "sqlite3_errmsg", l.errmsg);
  find(library, "sqlite3_errstr", l.errstr);
  find(library, "sqlite3_extended_errcode", l.extended_errcode);
  find(library, "sqlite3_extended_result_codes", l.extended_result_codes);
  find(library, "sqlite3_busy_timeout", l.busy_timeout);
  find(library, "sqlite3_last_insert_rowid", l.last_insert_rowid);
  find(library, "sqlite3_get_autocommit", l.get_autocommit);
  return l;
}

Library const& library() {
  static Library const loaded = load();
  return loaded;
}

constexpr int kWaitForOthersMs = 10000;

[[noreturn]] void complain_of(sqlite3* connection, int code) {
  if (!connection) throw SqliteTrouble(code, library().errstr(code));
  throw SqliteTrouble(library().extended_errcode(connection), library().errmsg(connection));
}

void must(sqlite3* connection, int code) {
  if (code != SQLITE_OK) complain_of(connection, code);
}

}  // namespace

Rows::~Rows() {
  if (!statement_) return;
  library().reset(statement_);
  library().clear_bindings(statement_);
}

bool Rows::next() {
  int const code = library().step(statement_);
  if (code == SQLITE_ROW) return true;
  if (code == SQLITE_DONE) return false;
  complain_of(library().db_handle(statement_), code);
}

long long Rows::whole(int column) const { return library().column_int64(statement_, column); }

std::string Rows::text(int column) const {
  auto const* const data = static_cast<char const*>(library().column_blob(statement_, column));
  return data ? std::string(data, static_cast<std::size_t>(library().column_bytes(statement_, column))) : std::string();
}

Database::Database(std::filesystem::path const& path, bool create) {
  int const flags = SQLITE_OPEN_READWRITE | (create ? SQLITE_OPEN_CREATE : 0) | SQLITE_OPEN_NOMUTEX;
  int const code = library().open_v2(path.c_str(), &connection_, flags, nullptr);
  if (code == SQLITE_OK) {
    library().extended_result_codes(connection_, 1);
    library().busy_timeout(connection_, kWaitForOthersMs);
    return;
  }
  std::string const why = connection_ ? library().errmsg(connection_) : library().errstr(code);
  library().close_v2(connection_);
  throw SqliteTrouble(code, why);
}

Database::~Database() {
  for (auto const& [sql, statement] : statements_) library().finalize(statement);
  library().close_v2(connection_);
}

void Database::run(std::string const& sql) { must(connection_, library().exec(connection_, sql.c_str(), nullptr, nullptr, nullptr)); }

sqlite3_stmt* Database::prepared(std::string const& sql) {
  auto const found = statements_.find(sql);
  if (found != statements_.end()) return found->second;
  sqlite3_stmt* statement = nullptr;
  must(connection_, library().prepare_v3(connection_, sql.c_str(), static_cast<int>(sql.size()), SQLITE_PREPARE_PERSISTENT, &statement, nullptr));
  return statements_[sql] = statement;
}

void Database::bind(sqlite3_stmt* statement, int at, long long value) { must(connection_, library().bind_int64(statement, at, value)); }

void Database::bind(sqlite3_stmt* statement, int at, std::string const& value) {
  must(connection_, library().bind_text(statement, at, value.data(), static_cast<int>(value.size()), SQLITE_TRANSIENT));
}

void Database::bind(sqlite3_stmt* statement, int at, Bytes value) {
  must(connection_, library().bind_blob(statement, at, value.bytes.data(), static_cast<int>(value.bytes.size()), SQLITE_TRANSIENT));
}

long long Database::last_id() const { return library().last_insert_rowid(connection_); }
bool Database::in_transaction() const { return library().get_autocommit(connection_) == 0; }

bool is_damage(SqliteTrouble const& trouble) {
  int const primary = trouble.code & 0xFF;
  return primary == SQLITE_CORRUPT || primary == SQLITE_NOTADB;
}
bool is_busy(SqliteTrouble const& trouble) { return (trouble.code & 0xFF) == SQLITE_BUSY; }

}  // namespace layright
