// A ledger that is one SQLite file (WAL, full sync).
#pragma once
#include <filesystem>
#include <memory>

#include "base/result.h"
#include "watch/database.h"

namespace layright {

/// Opens it, brought up to this program's version of the tables. Errors as Ledger::open's.
Result<std::unique_ptr<Database>> open_ledger_file(std::filesystem::path const& path, bool may_create);

}  // namespace layright
