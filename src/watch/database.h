// What a ledger is kept in: one connection, plain rows. SQL that both kinds of database take is written once, in ledger.cpp; where they differ,
// a database says it in its own words.
#pragma once
#include <concepts>
#include <functional>
#include <memory>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace layright {

/// What a database complains of; the text says it to whoever keeps the ledger. Only ledger_guarded catches it.
struct DatabaseError : std::runtime_error {
  enum class Kind {
    damaged,      // the ledger itself, or it is none
    busy,         // another program held it for too long
    failed,       // it cannot be read or written
    unreachable,  // its server does not answer
    taken,        // what may be there once only is there
    lease_lost,   // another desk goes on with the entry
  };
  DatabaseError(Kind given, std::string const& why) : std::runtime_error(why), kind(given) {}
  Kind kind;
};

/// Any bytes, as they are: names of files need not be text.
struct RawBytes {
  std::string_view bytes;
};

/// What a statement is given for one of its places. Text and bytes are borrowed.
class DatabaseValue {
 public:
  enum class Kind { whole, text, bytes };
  DatabaseValue(std::integral auto value) : kind(Kind::whole), whole(value) {}
  DatabaseValue(std::string const& value) : kind(Kind::text), bytes(value) {}
  DatabaseValue(RawBytes value) : kind(Kind::bytes), bytes(value.bytes) {}

  Kind kind;
  long long whole = 0;
  std::string_view bytes;
};

/// The rows that a statement gives, one at a time.
class RowSource {
 public:
  virtual ~RowSource() = default;
  virtual bool next() = 0;
  virtual long long whole(int column) const = 0;
  virtual std::string text(int column) const = 0;  // text or bytes; empty for NULL
};
using Rows = std::unique_ptr<RowSource>;

class Database {
 public:
  Database() = default;
  virtual ~Database() = default;
  Database(Database const&) = delete;
  Database& operator=(Database const&) = delete;

  /// Several statements without values or rows. All calls here throw DatabaseError.
  virtual void run(std::string const& sql) = 0;
  /// One statement, prepared once; its places are ?, or ?1, ?2 …
  virtual Rows ask_with(std::string const& sql, std::span<DatabaseValue const> values) = 0;
  template <class... Values>
  Rows ask(std::string const& sql, Values const&... values) {
    if constexpr (sizeof...(values) == 0) {
      return ask_with(sql, {});
    } else {
      DatabaseValue const all[] = {DatabaseValue(values)...};
      return ask_with(sql, all);
    }
  }
  /// One statement for each of several sets of values, and the rows of each: for a server in one journey. The first trouble ends it.
  using EachRows = std::function<void(std::size_t set, RowSource& rows)>;
  virtual void ask_each(std::string const& sql, std::span<std::vector<DatabaseValue> const> sets, EachRows const& each) {
    for (std::size_t i = 0; i < sets.size(); ++i) each(i, *ask_with(sql, sets[i]));
  }
  /// One statement that gives no rows.
  template <class... Values>
  void put(std::string const& sql, Values const&... values) {
    auto const rows = ask(sql, values...);
    while (rows->next()) {
    }
  }
  /// The first whole number that a statement gives; 0 where it gives none.
  template <class... Values>
  long long single(std::string const& sql, Values const&... values) {
    auto const rows = ask(sql, values...);
    return rows->next() ? rows->whole(0) : 0;
  }

  /// A transaction: nobody else changes what it has read. What was committed is on the disk.
  virtual void begin() = 0;
  virtual void commit() = 0;
  virtual void roll_back() noexcept = 0;
  /// All of `work` or nothing.
  template <class Work>
  void transact(Work const& work) {
    begin();
    try {
      work();
      commit();
    } catch (...) {
      roll_back();
      throw;
    }
  }

  /// Whether several desks may work with it at a time.
  virtual bool is_shared() const { return false; }
  /// SQL that ends a SELECT of rows that the transaction is about to change, where reading alone does not keep others away.
  virtual std::string for_update() const { return {}; }
  /// SQL for the database's own time, in milliseconds since 1970 UTC.
  virtual std::string now() const = 0;

  /// The day, YYYY-MM-DD of the shop's own time (TZ), of milliseconds since 1970 UTC that this SQL gives.
  virtual std::string day_of(std::string const& sql) const = 0;
  /// SQL for whether a column of bytes matches a shell pattern; the place is given pattern_value(pattern).
  virtual std::string matches(std::string const& column, std::string const& place) const = 0;
  virtual std::string pattern_value(std::string const& pattern) const = 0;
  /// SQL for the different texts of a group, with commas between them.
  virtual std::string joined(std::string const& sql) const = 0;

  /// Its tables, and their columns; `whole` and `bytes` tell their kind, else they hold text.
  struct Column {
    std::string name;
    bool whole = false, bytes = false;
  };
  virtual std::vector<std::string> tables() = 0;
  virtual std::vector<Column> columns(std::string const& table) = 0;
  /// In a transaction: nobody else writes to the table until its end.
  virtual void keep_writers_out(std::string const& table) = 0;
  /// Rows were written with numbers that were theirs elsewhere: the next one counts on from them.
  virtual void go_on_counting(std::string const& table) = 0;

  /// What is wrong with what it is kept in; empty when nothing.
  virtual std::vector<std::string> damage() = 0;
  /// A number that changes when another connection has written.
  virtual long long version_of_data() = 0;
  /// Has what was written in its own file, where it has one, as far as nobody who reads keeps it from that.
  virtual void write_through() = 0;
};

}  // namespace layright
