#include "watch/postgresql_module/postgresql.h"

#include <array>
#include <chrono>
#include <cstdlib>
#include <exception>
#include <thread>

#include <utility>

#include "base/utf8.h"
#include "watch/postgresql_module/session.h"

namespace layright {
namespace {

constexpr pqxx::oid kBytes = 17;  // BYTEAOID of pg_type.dat

class PostgresqlRows : public RowSource {
 public:
  explicit PostgresqlRows(pqxx::result const& result) : result_(result) {}  // shared, not copied
  bool next() override { return ++at_ < static_cast<long long>(result_.size()); }
  long long whole(int column) const override {
    auto const field = this->field(column);
    return field.is_null() ? 0 : std::strtoll(field.c_str(), nullptr, 10);
  }
  std::string text(int column) const override {
    auto const field = this->field(column);
    if (field.is_null()) return {};
    if (result_.column_type(static_cast<pqxx::row::size_type>(column)) != kBytes) return {field.c_str(), field.size()};
    pqxx::binarystring const bytes(field);
    return {bytes.get(), bytes.size()};
  }

 private:
  pqxx::field field(int column) const { return result_[static_cast<pqxx::result::size_type>(at_)][static_cast<pqxx::row::size_type>(column)]; }
  pqxx::result result_;
  long long at_ = -1;
};

std::string bytes_value(std::string_view bytes) {
  constexpr char const* kDigits = "0123456789abcdef";
  std::string out = "\\x";
  for (char const c : bytes) {
    out += kDigits[static_cast<unsigned char>(c) >> 4];
    out += kDigits[static_cast<unsigned char>(c) & 15];
  }
  return out;
}

/// Texts of people may hold what came with a file's name; the server takes no text that is not UTF-8.
std::string value_text(DatabaseValue const& value) {
  if (value.kind == DatabaseValue::Kind::whole) return std::to_string(value.whole);
  if (value.kind == DatabaseValue::Kind::bytes) return bytes_value(value.bytes);
  auto text = valid_utf8(value.bytes);
  std::erase(text, '\0');
  return text;
}

/// ? and ?1 become $1, as the server writes places.
std::string with_places(std::string const& sql) {
  std::string out;
  int next = 0;
  for (std::size_t i = 0; i < sql.size(); ++i) {
    if (sql[i] != '?') {
      out += sql[i];
      continue;
    }
    out += '$';
    bool const numbered = i + 1 < sql.size() && sql[i + 1] >= '0' && sql[i + 1] <= '9';
    if (!numbered) out += std::to_string(++next);
  }
  return out;
}

DatabaseError error_of(pqxx::sql_error const& error) {
  auto const& state = error.sqlstate();
  // Appendix A of PostgreSQL's documentation names these.
  bool const waits = state == "40001" || state == "40P01" || state == "55P03" || state == "57014";
  if (waits) return {DatabaseError::Kind::busy, first_line(error.what())};
  if (state == "23505") return {DatabaseError::Kind::taken, first_line(error.what())};
  if (state.starts_with("53") || state.starts_with("57") || state.starts_with("08") || state == "25P03")
    return {DatabaseError::Kind::unreachable, first_line(error.what())};
  return {DatabaseError::Kind::failed, first_line(error.what())};
}

/// An INSERT for several rows at once; empty for what is none.
std::string several_rows(std::string const& sql, std::size_t rows) {
  constexpr std::string_view kValues = " VALUES(";
  auto const from = sql.find(kValues);
  if (!sql.starts_with("INSERT ") || from == std::string::npos) return {};
  auto const open = from + kValues.size() - 1;
  auto end = open;
  for (int depth = 0; end < sql.size(); ++end) {
    depth += sql[end] == '(' ? 1 : sql[end] == ')' ? -1 : 0;
    if (depth == 0) break;
  }
  std::string const row = sql.substr(open, end + 1 - open);
  std::string out = sql.substr(0, open);
  for (std::size_t i = 0; i < rows; ++i) out += (i == 0 ? "" : ",") + row;
  return out + sql.substr(end + 1);
}

/// One row of several.
class OneRow : public RowSource {
 public:
  explicit OneRow(RowSource& all) : all_(all) {}
  bool next() override { return !std::exchange(told_, true) && all_.next(); }
  long long whole(int column) const override { return all_.whole(column); }
  std::string text(int column) const override { return all_.text(column); }

 private:
  RowSource& all_;
  bool told_ = false;
};

}  // namespace

PostgresqlDatabase::PostgresqlDatabase(std::string const& address) : address_(with_timeouts(address)) {}
PostgresqlDatabase::~PostgresqlDatabase() = default;

template <class Work>
auto PostgresqlDatabase::guarded(Work const& work) {
  try {
    return work();
  } catch (pqxx::broken_connection const& error) {
    lost();
    if (in_transaction_) broken_ = "the connection was lost";
    throw DatabaseError(DatabaseError::Kind::unreachable, first_line(error.what()));
  } catch (pqxx::sql_error const& error) {
    auto const told = error_of(error);
    // A connection that the library made again by itself would go on outside of the transaction.
    if (told.kind == DatabaseError::Kind::unreachable || !connection_ || !connection_->is_open()) lost();
    if (in_transaction_) broken_ = told.what();
    throw told;
  } catch (pqxx::failure const& error) {
    if (in_transaction_) broken_ = error.what();
    throw DatabaseError(DatabaseError::Kind::failed, first_line(error.what()));
  }
}

void PostgresqlDatabase::lost() {
  if (in_transaction_) orphan_ = started_;
  connection_.reset();
  statements_.clear();
}

void PostgresqlDatabase::connect() {
  if (connection_) return;
  guarded([&] {
    auto fresh = std::make_unique<pqxx::connection>(address_);
    // Else the library makes a connection again by itself, and goes on outside of the transaction; a pipeline even says its statements once more.
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wdeprecated-declarations"
    fresh->inhibit_reactivation(true);  // its later releases never do it
#pragma GCC diagnostic pop
    pqxx::nontransaction begun(*fresh);
    begun.exec(session_settings());
    // The server may not know yet that the line to its other end is dead, and would keep what that transaction has locked.
    if (!orphan_.empty())
      begun.exec("SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE CAST(backend_xid AS text)=CAST(" + orphan_ + " % 4294967296 AS text)");
    orphan_.clear();
    connection_ = std::move(fresh);
  });
}

void PostgresqlDatabase::run(std::string const& sql) {
  if (!in_transaction_) connect();
  if (!broken_.empty()) throw DatabaseError(DatabaseError::Kind::unreachable, broken_);
  guarded([&] { pqxx::nontransaction(*connection_).exec(sql); });
}

std::string const& PostgresqlDatabase::prepared(std::string const& sql) {
  auto const found = statements_.find(sql);
  if (found != statements_.end()) return found->second;
  auto const name = "s" + std::to_string(statements_.size());
  connection_->prepare(name, with_places(sql));
  return statements_[sql] = name;
}

Rows PostgresqlDatabase::ask_with(std::string const& sql, std::span<DatabaseValue const> values) {
  if (!in_transaction_) connect();
  if (!broken_.empty()) throw DatabaseError(DatabaseError::Kind::unreachable, broken_);
  return guarded([&]() -> Rows {
    std::vector<std::string> texts;
    texts.reserve(values.size());
    for (auto const& value : values) texts.push_back(value_text(value));
    pqxx::nontransaction here(*connection_);
    return std::make_unique<PostgresqlRows>(here.exec_prepared(prepared(sql), pqxx::prepare::make_dynamic_params(texts)));
  });
}

/// The statements that are prepared go as one text: each of them as SQL.
void PostgresqlDatabase::ask_each(std::string const& sql, std::span<std::vector<DatabaseValue> const> sets, EachRows const& each) {
  if (sets.size() < 2) return Database::ask_each(sql, sets, each);
  if (auto const whole = several_rows(sql, sets.size()); !whole.empty()) {
    std::vector<DatabaseValue> values;
    for (auto const& set : sets) values.insert(values.end(), set.begin(), set.end());
    auto const rows = ask_with(whole, values);
    for (std::size_t i = 0; i < sets.size(); ++i) {
      OneRow row(*rows);
      each(i, row);
    }
    return;
  }
  if (!in_transaction_) connect();
  if (!broken_.empty()) throw DatabaseError(DatabaseError::Kind::unreachable, broken_);
  auto const answers = guarded([&] {
    auto const& name = prepared(sql);
    connection_->prepare_now(name);
    pqxx::nontransaction here(*connection_);
    pqxx::pipeline all(here);
    all.retain(static_cast<int>(sets.size()));
    std::vector<pqxx::pipeline::query_id> asked;
    for (auto const& values : sets) {
      std::string text = "EXECUTE " + name + "(";
      for (auto const& value : values) text += connection_->quote(value_text(value)) + ",";
      text.back() = ')';
      asked.push_back(all.insert(text));
    }
    std::vector<pqxx::result> told;
    for (auto const id : asked) told.push_back(all.retrieve(id));
    all.complete();
    return told;
  });
  for (std::size_t i = 0; i < answers.size(); ++i) {
    PostgresqlRows rows(answers[i]);
    each(i, rows);
  }
}

void PostgresqlDatabase::begin() {
  connect();
  broken_.clear();
  try {
    guarded([&] { started_ = pqxx::nontransaction(*connection_).exec("BEGIN; SELECT txid_current()")[0][0].as<std::string>(); });
  } catch (DatabaseError const&) {  // a server that was started again meanwhile is told only by a call that fails
    if (connection_) throw;
    connect();
    guarded([&] { started_ = pqxx::nontransaction(*connection_).exec("BEGIN; SELECT txid_current()")[0][0].as<std::string>(); });
  }
  in_transaction_ = true;
}

/// Asked for where the answer to COMMIT was lost. The server knows the end of each transaction of late.
bool PostgresqlDatabase::was_committed() {
  constexpr int kTries = 40;
  for (int i = 0; i < kTries; ++i) {
    try {
      auto const rows = ask_with("SELECT txid_status(CAST(?1 AS bigint))", std::array{DatabaseValue(std::as_const(started_))});
      auto const status = rows->next() ? rows->text(0) : std::string();
      if (status != "in progress") return status == "committed";
    } catch (DatabaseError const&) {
      if (i + 1 == kTries) throw;
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(250));
  }
  throw DatabaseError(DatabaseError::Kind::unreachable, "it is not known whether the last change was kept");
}

void PostgresqlDatabase::commit() {
  if (!broken_.empty()) throw DatabaseError(DatabaseError::Kind::unreachable, broken_);
  try {
    guarded([&] { pqxx::nontransaction(*connection_).exec("COMMIT"); });
    in_transaction_ = false;
  } catch (DatabaseError const&) {
    in_transaction_ = false;
    broken_.clear();
    if (connection_ || !was_committed()) throw;
  }
}

void PostgresqlDatabase::roll_back() noexcept {  // the first trouble is the one to tell
  in_transaction_ = false;
  broken_.clear();
  if (!connection_) return;
  try {
    pqxx::nontransaction(*connection_).exec("ROLLBACK");
  } catch (std::exception const&) {
    lost();
  }
}

std::vector<std::string> PostgresqlDatabase::tables() {
  auto const rows = ask("SELECT relname FROM pg_class WHERE relkind='r' AND relnamespace=CAST(current_schema() AS regnamespace) ORDER BY oid");
  std::vector<std::string> out;
  while (rows->next()) out.push_back(rows->text(0));
  return out;
}

std::vector<Database::Column> PostgresqlDatabase::columns(std::string const& table) {
  auto const rows = ask(
      "SELECT column_name, data_type FROM information_schema.columns WHERE table_schema=current_schema() AND table_name=? ORDER BY ordinal_position",
      table);
  std::vector<Column> out;
  while (rows->next()) out.push_back({rows->text(0), rows->text(1) == "bigint", rows->text(1) == "bytea"});
  return out;
}

void PostgresqlDatabase::go_on_counting(std::string const& table) {
  single("SELECT setval(pg_get_serial_sequence('" + table + "','id'), (SELECT max(id) FROM " + table + ")) WHERE EXISTS (SELECT 1 FROM " + table +
         ")");
}

std::string PostgresqlDatabase::pattern_value(std::string const& pattern) const { return regular_expression(pattern); }

long long PostgresqlDatabase::version_of_data() { return single("SELECT txid_snapshot_xmax(txid_current_snapshot())"); }

}  // namespace layright
