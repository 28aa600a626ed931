// Where a ledger is kept: a file, or the database of a server.
#pragma once
#include <filesystem>
#include <string>
#include <string_view>

#include "base/result.h"

namespace layright {

/// Whether it is a server's: postgresql:// or postgres:// and so on, as libpq takes it. Else it is the path of a file.
bool is_server_address(std::string_view text);

/// Error (usage) where an address has a password in it: it would stand in files, messages and lists of processes. The message does not show it.
Outcome check_server_address(std::string_view text);

/// What `text` means: an address as it is, or a path from `folder`. Errors as check_server_address().
Result<std::filesystem::path> ledger_place(std::string const& text, std::filesystem::path const& folder);

}  // namespace layright
