// PostgreSQL: one connection, made again where it was lost.
#pragma once
#include <map>
#include <memory>
#include <pqxx/pqxx>
#include <string>

#include "watch/database.h"

namespace layright {

class PostgresqlDatabase : public Database {
 public:
  explicit PostgresqlDatabase(std::string const& address);
  ~PostgresqlDatabase() override;
  /// Throws DatabaseError. Whatever is asked for first does it too.
  void connect();

  void run(std::string const& sql) override;
  Rows ask_with(std::string const& sql, std::span<DatabaseValue const> values) override;
  void ask_each(std::string const& sql, std::span<std::vector<DatabaseValue> const> sets, EachRows const& each) override;
  void begin() override;
  void commit() override;
  void roll_back() noexcept override;
  bool is_shared() const override { return true; }
  std::string for_update() const override { return in_transaction_ ? " FOR UPDATE" : ""; }
  std::string now() const override { return "CAST(extract(epoch FROM clock_timestamp())*1000 AS bigint)"; }
  std::string day_of(std::string const& sql) const override { return "to_char(to_timestamp((" + sql + ")/1000.0),'YYYY-MM-DD')"; }
  std::string matches(std::string const& column, std::string const& place) const override {
    return "convert_from(" + column + ",'LATIN1') ~ " + place;
  }
  std::string pattern_value(std::string const& pattern) const override;
  std::string joined(std::string const& sql) const override { return "string_agg(DISTINCT " + sql + ",',')"; }
  std::vector<std::string> tables() override;
  std::vector<Column> columns(std::string const& table) override;
  void keep_writers_out(std::string const& table) override { run("LOCK TABLE " + table + " IN SHARE MODE"); }
  void go_on_counting(std::string const& table) override;
  std::vector<std::string> damage() override { return {}; }
  long long version_of_data() override;
  void write_through() override {}

 private:
  std::string const& prepared(std::string const& sql);
  /// Runs `work` and turns what libpqxx throws into DatabaseErrors. A connection that broke is given up.
  template <class Work>
  auto guarded(Work const& work);
  void lost();
  bool was_committed();

  std::string address_;
  std::unique_ptr<pqxx::connection> connection_;
  std::map<std::string, std::string> statements_;  // what each is called on this connection, by its SQL
  bool in_transaction_ = false;
  std::string broken_;   // why the transaction at work cannot end well
  std::string started_;  // the number that the server gave it
  std::string orphan_;   // of a transaction whose connection broke, and that may still be there
};

}  // namespace layright
