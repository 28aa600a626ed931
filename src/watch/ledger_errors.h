// What SQLite complains of, as errors of the ledger.
#pragma once
#include <filesystem>
#include <stdexcept>

#include "base/result.h"
#include "watch/sqlite.h"

namespace layright {

/// Kinds: data where the ledger is damaged, try_again where another program holds it, else io.
inline Error ledger_error(std::filesystem::path const& path, SqliteError const& trouble) {
  if (is_damage(trouble))
    return {ErrorKind::data, path.string() +
                                 ": the ledger is damaged; nothing was changed. Put the last backup in its place, or recover it: sqlite3 " +
                                 path.string() + " .recover | sqlite3 recovered.db"};
  if (is_busy(trouble)) return {ErrorKind::try_again, path.string() + ": another program holds the ledger; try again"};
  return {ErrorKind::io, path.string() + ": the ledger cannot be read or written: " + plain_words(trouble)};
}

/// Runs `work`, which throws what SQLite complains of.
template <class Work>
auto ledger_guarded(std::filesystem::path const& path, Work const& work) -> Result<decltype(work())> {
  try {
    return work();
  } catch (SqliteError const& trouble) {
    return ledger_error(path, trouble);
  } catch (std::runtime_error const& trouble) {
    return Error{ErrorKind::internal, trouble.what()};
  }
}

}  // namespace layright
