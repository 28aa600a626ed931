// A ledger in the database of a PostgreSQL server, which several desks share.
#pragma once
#include <filesystem>
#include <memory>

#include "base/result.h"
#include "watch/database.h"

namespace layright {

/// Opens it, its tables brought up to this program's version; with `may_create` they are made where there are none. Errors as Ledger::open's;
/// try_again where the server does not answer.
Result<std::unique_ptr<Database>> open_ledger_server(std::filesystem::path const& address, bool may_create);

}  // namespace layright
