// What a database complains of, as errors of the ledger.
#pragma once
#include <filesystem>
#include <stdexcept>

#include "base/result.h"
#include "watch/database.h"

namespace layright {

/// Kinds: data where the ledger is damaged, try_again where another program holds it, else io.
inline Error ledger_error(std::filesystem::path const& path, DatabaseError const& trouble) {
  switch (trouble.kind) {
    case DatabaseError::Kind::damaged:
      return {ErrorKind::data, path.string() +
                                   ": the ledger is damaged; nothing was changed. Put the last backup in its place, or recover it: sqlite3 " +
                                   path.string() + " .recover | sqlite3 recovered.db"};
    case DatabaseError::Kind::busy: return {ErrorKind::try_again, path.string() + ": another program holds the ledger; try again"};
    case DatabaseError::Kind::unreachable:
      return {ErrorKind::try_again, path.string() + ": the ledger's server does not answer (" + trouble.what() + "); try again"};
    case DatabaseError::Kind::taken: return {ErrorKind::try_again, path.string() + ": another desk was faster; try again"};
    case DatabaseError::Kind::lease_lost: return {ErrorKind::try_again, path.string() + ": another desk has gone on with the job"};
    default: return {ErrorKind::io, path.string() + ": the ledger cannot be read or written: " + trouble.what()};
  }
}

/// Runs `work`, which throws what the database complains of.
template <class Work>
auto ledger_guarded(std::filesystem::path const& path, Work const& work) -> Result<decltype(work())> {
  try {
    return work();
  } catch (DatabaseError const& trouble) {
    return ledger_error(path, trouble);
  } catch (std::runtime_error const& trouble) {
    return Error{ErrorKind::internal, trouble.what()};
  }
}

}  // namespace layright
