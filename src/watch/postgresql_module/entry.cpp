#include "watch/postgresql_module/entry.h"

#include <exception>
#include <memory>

#include "watch/postgresql_module/postgresql.h"

extern "C" __attribute__((visibility("default"))) layright::Database* layright_open_postgresql(std::string const& address, std::string& trouble) {
  try {
    auto database = std::make_unique<layright::PostgresqlDatabase>(address);
    database->connect();
    return database.release();
  } catch (std::exception const& error) {
    trouble = error.what();
    return nullptr;
  }
}
