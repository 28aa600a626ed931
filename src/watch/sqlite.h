// SQLite: one connection.
#pragma once
#include <filesystem>
#include <map>
#include <string>

#include "watch/database.h"

struct sqlite3;
struct sqlite3_stmt;

namespace layright {

class SqliteDatabase : public Database {
 public:
  /// Throws DatabaseError. With `create` the file may be missing.
  SqliteDatabase(std::filesystem::path const& path, bool create);
  ~SqliteDatabase() override;

  void run(std::string const& sql) override;
  Rows ask_with(std::string const& sql, std::span<DatabaseValue const> values) override;
  void begin() override { run("BEGIN IMMEDIATE"); }
  void commit() override { run("COMMIT"); }
  void roll_back() noexcept override;
  std::string now() const override { return "CAST(strftime('%s','now') AS INTEGER)*1000"; }
  std::string day_of(std::string const& sql) const override { return "date((" + sql + ")/1000,'unixepoch','localtime')"; }
  std::string matches(std::string const& column, std::string const& place) const override { return "CAST(" + column + " AS TEXT) GLOB " + place; }
  std::string pattern_value(std::string const& pattern) const override { return pattern; }
  std::string joined(std::string const& sql) const override { return "group_concat(DISTINCT " + sql + ")"; }
  std::vector<std::string> tables() override;
  std::vector<Column> columns(std::string const& table) override;
  void keep_writers_out(std::string const&) override {}  // begin() does
  void go_on_counting(std::string const&) override {}    // it does so by itself
  std::vector<std::string> damage() override;
  long long version_of_data() override { return single("PRAGMA data_version"); }
  void write_through() override { single("PRAGMA wal_checkpoint(FULL)"); }

 private:
  sqlite3_stmt* prepared(std::string const& sql);

  sqlite3* connection_ = nullptr;
  std::map<std::string, sqlite3_stmt*> statements_;
};

}  // namespace layright
