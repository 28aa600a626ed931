// SQLite: one connection, plain rows.
#pragma once
#include <filesystem>
#include <map>
#include <stdexcept>
#include <string>
#include <string_view>

#include "base/result.h"

struct sqlite3;
struct sqlite3_stmt;

namespace layright {

/// What SQLite complains of. Does not leave watch/ledger.cpp.
struct SqliteError : std::runtime_error {
  SqliteError(int given, std::string const& why) : std::runtime_error(why), code(given) {}
  int code;  // SQLite's extended result code
};

/// What it means for whoever keeps the ledger.
std::string plain_words(SqliteError const& trouble);

/// Any bytes, as they are: names of files need not be text.
struct RawBytes {
  std::string_view bytes;
};

/// The rows that a statement gives, one at a time. Its statement is free again when it goes.
class Rows {
 public:
  explicit Rows(sqlite3_stmt* statement) : statement_(statement) {}
  Rows(Rows&& other) noexcept : statement_(std::exchange(other.statement_, nullptr)) {}
  ~Rows();
  bool next();
  long long whole(int column) const;
  std::string text(int column) const;  // text or bytes; empty for NULL

 private:
  sqlite3_stmt* statement_;
};

class Database {
 public:
  /// Throws SqliteError. With `create` the file may be missing.
  Database(std::filesystem::path const& path, bool create);
  ~Database();
  Database(Database const&) = delete;
  Database& operator=(Database const&) = delete;

  /// Several statements without values or rows.
  void run(std::string const& sql);
  /// One statement, prepared once; `values` are whole numbers, text or RawBytes.
  template <class... Values>
  Rows ask(std::string const& sql, Values const&... values) {
    auto* const statement = prepared(sql);
    int at = 0;
    (bind(statement, ++at, values), ...);
    return Rows(statement);
  }
  /// One statement that gives no rows.
  template <class... Values>
  void put(std::string const& sql, Values const&... values) {
    auto rows = ask(sql, values...);
    while (rows.next()) {
    }
  }
  long long last_id() const;
  bool in_transaction() const;

 private:
  sqlite3_stmt* prepared(std::string const& sql);
  void bind(sqlite3_stmt* statement, int at, long long value);
  void bind(sqlite3_stmt* statement, int at, int value) { bind(statement, at, static_cast<long long>(value)); }
  void bind(sqlite3_stmt* statement, int at, std::string const& value);
  void bind(sqlite3_stmt* statement, int at, RawBytes value);

  sqlite3* connection_ = nullptr;
  std::map<std::string, sqlite3_stmt*> statements_;
};

/// Whether the trouble says that the file itself is damaged or no database.
bool is_damage(SqliteError const& trouble);
/// Whether another program held the database for too long.
bool is_busy(SqliteError const& trouble);

}  // namespace layright
