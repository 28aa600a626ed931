// Rows of the ledger's tables as values.
#pragma once
#include <filesystem>
#include <string>

#include "watch/database.h"
#include "watch/ledger.h"

namespace layright {

/// What entry_of() reads, in its order.
inline constexpr char const* kEntryColumns =
    "id, intake, name, digest, device, inode, bytes, modified_ns, arrived, changed, state, next, place, goes_to, target, copies, run, tries, "
    "interrupted, verdict, reason, findings, same_as, decision, send, send_name, send_told, press_job, render, owner, token, batch, gang";
inline constexpr char const* kUnfinished = "(state IN ('moving','taken','placing') OR decision <> '' OR send IN ('wanted','sending'))";

LedgerEntry entry_of(RowSource const& row);
/// What kUnfinished says of a row.
bool is_unfinished(LedgerEntry const& entry);

/// A path whose name is folded, for finding what would be the same file to some readers.
std::string ledger_key(std::filesystem::path const& path);

}  // namespace layright
