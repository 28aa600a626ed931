#include "watch/ledger_file.h"

#include <sys/stat.h>

#include <cerrno>
#include <cstring>
#include <utility>

#include "watch/ledger_errors.h"
#include "watch/ledger_schema.h"
#include "watch/sqlite.h"
#include "write/move_file.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

void use_full_sync(Database& database) { database.run("PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON;"); }

void upgrade(Database& database, long long from) {
  database.transact([&] {
    for (auto step = static_cast<std::size_t>(from); step < kSteps.size(); ++step) database.run(kSteps[step]);
    database.run("PRAGMA user_version=" + std::to_string(kSteps.size()));
    database.run("PRAGMA application_id=" + std::to_string(kApplication));
  });
}

/// A new ledger is made whole under another name, so that an empty file of the ledger's name is always one that was damaged.
Outcome create(fs::path const& path) {
  fs::path const fresh = path.native() + ".new";
  for (char const* ending : {"", "-wal", "-shm", "-journal"})
    if (auto const gone = remove_file(fresh.native() + ending); !gone) return gone;
  auto const made = ledger_guarded(fresh, [&] {
    SqliteDatabase database(fresh, true);
    use_full_sync(database);
    upgrade(database, 0);  // not with a write-ahead log yet: what its closing would do could fail unnoticed
    return true;
  });
  if (!made) return made.error();
  auto const end = move_file(fresh, path);
  if (!end) return end.error();
  return done();
}

Outcome check_file(fs::path const& path) {
  struct stat found {};
  if (::stat(path.c_str(), &found) != 0) return Error{ErrorKind::no_input, path.string() + ": the ledger cannot be opened: " + std::strerror(errno)};
  if (!S_ISREG(found.st_mode)) return Error{ErrorKind::data, path.string() + ": this is no file, so no ledger"};
  if (found.st_size == 0)
    return Error{
        ErrorKind::data,
        path.string() +
            ": the ledger is damaged: it is empty. Put the last backup in its place; to begin a new one, move it and what lies beside it away first"};
  return done();
}

Outcome check_version(Database& database, fs::path const& path, long long version) {
  if (database.single("PRAGMA application_id") != kApplication)
    return Error{ErrorKind::data, path.string() + ": this is no ledger of layright, and was left as it is"};
  if (version > static_cast<long long>(kSteps.size()))
    return Error{ErrorKind::data, path.string() + ": the ledger was written by a newer layright (version " + std::to_string(version) +
                                      "; this one knows " + std::to_string(kSteps.size()) + "); use that one"};
  return done();
}

}  // namespace

Result<std::unique_ptr<Database>> open_ledger_file(fs::path const& path, bool may_create) {
  if (!is_there(path)) {
    if (is_there(path.native() + "-wal"))
      return Error{ErrorKind::data, path.string() + ": the ledger is gone, but " + path.string() +
                                        "-wal, a part of it, is still there. Put both back, or move that away to begin a new one"};
    if (!may_create) return Error{ErrorKind::no_input, path.string() + ": there is no ledger yet; layright watch begins one"};
    if (auto const made = create(path); !made) return made.error();
  }
  if (auto const good = check_file(path); !good) return good.error();
  auto opened = ledger_guarded(path, [&]() -> Result<std::unique_ptr<Database>> {
    std::unique_ptr<Database> database = std::make_unique<SqliteDatabase>(path, false);
    use_full_sync(*database);
    auto const version = database->single("PRAGMA user_version");
    if (auto const known = check_version(*database, path, version); !known) return known.error();
    database->run("PRAGMA journal_mode=WAL");
    if (version < static_cast<long long>(kSteps.size())) upgrade(*database, version);
    database->single("SELECT count(*) FROM entry WHERE id=0");
    return database;
  });
  if (!opened) return opened.error();
  return std::move(*opened);
}

}  // namespace layright
