// What a running watcher notices of others: its ledger taken away, its folders watched by somebody else, a file exchanged while it is moved.
#include <fcntl.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <fstream>

#include "support/program.h"
#include "watch/arrivals.h"
#include "watch/file_mover.h"
#include "watch/folder_lock.h"
#include "watch/ledger_seal.h"
#include "write/move_file.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

void put(fs::path const& path, std::string const& text) { std::ofstream(path, std::ios::binary | std::ios::trunc) << text; }
std::string read(fs::path const& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

LedgerEntry entry_of(fs::path const& folder, std::string const& name) {
  LedgerEntry e;
  e.intake = "desk";
  e.name = name;
  e.state = LedgerState::held;
  e.place = (folder / "held" / name).native();
  struct stat about {};
  REQUIRE(stat(e.place.c_str(), &about) == 0);
  e.mark = mark_of(about);
  int const descriptor = open(e.place.c_str(), O_RDONLY | O_CLOEXEC);
  e.digest = *digest_of(descriptor, e.place);
  close(descriptor);
  return e;
}

Intake intake_in(fs::path const& folder) {
  Intake intake;
  intake.name = "desk";
  intake.in = folder / "in";
  intake.ready = folder / "ready";
  intake.held = folder / "held";
  intake.originals = folder / "originals";
  intake.ledger = folder / "l.db";
  for (auto const& each : {intake.in, intake.ready, intake.held, intake.originals}) fs::create_directories(each);
  return intake;
}

}  // namespace

TEST_CASE("a ledger that is deleted, replaced or overwritten is noticed", "[seal]") {
  test::Folder folder;
  auto const path = folder / "l.db";
  auto ledger = Ledger::open(path, true);
  REQUIRE(ledger);
  auto seal = LedgerSeal::set(*ledger);
  REQUIRE(seal);
  CHECK_FALSE(seal->broken());
  for (int i = 0; i < 50; ++i) {  // its own work is none of that, whoever does it
    LedgerEntry e;
    e.name = "n" + std::to_string(i) + std::string(2000, 'x');
    auto other = Ledger::open(path, false);
    REQUIRE((i % 2 ? *ledger : *other).change([&](LedgerChange& change) { change.add(e); }));
    REQUIRE_FALSE(seal->broken());
  }
  auto const backup = folder / "backup.db";
  test::shell("sqlite3 '" + path.string() + "' '.backup " + backup.string() + "'");
  test::shell("sqlite3 '" + path.string() + "' 'PRAGMA wal_checkpoint'");
  CHECK_FALSE(seal->broken());
  SECTION("deleted") {
    fs::remove(path);
    CHECK(seal->broken().value_or("").find("deleted") != std::string::npos);
  }
  SECTION("moved away") {
    fs::rename(path, folder / "away.db");
    CHECK(seal->broken());
  }
  SECTION("replaced") {
    fs::rename(backup, path);
    CHECK(seal->broken().value_or("").find("replaced") != std::string::npos);
  }
  SECTION("overwritten by another ledger") {
    fs::remove(folder / "o.db");
    { REQUIRE(Ledger::open(folder / "o.db", true)); }
    put(path, read(folder / "o.db"));
    CHECK(seal->broken().value_or("").find("overwritten") != std::string::npos);
  }
  SECTION("emptied") {
    fs::resize_file(path, 0);
    CHECK(seal->broken());
  }
  SECTION("overwritten with nothing of sense, at its full length") {
    put(path, std::string(fs::file_size(path), 'x'));
    CHECK(seal->broken());
  }
  SECTION("its newest part deleted") {
    fs::remove(path.string() + "-wal");
    CHECK(seal->broken());
  }
  ledger->abandon();
}

TEST_CASE("two watchers over one folder: the second hears so", "[folder_lock]") {
  test::Folder folder;
  FolderLocks first;
  REQUIRE(first.take(folder.path()));
  CHECK(first.take(folder.path()));  // another intake of the same watcher
  CHECK(first.take(folder / "not-there"));
  FolderLocks second;
  auto const refused = second.take(folder.path());
  REQUIRE_FALSE(refused);
  CHECK(refused.error().kind == ErrorKind::try_again);
  CHECK(refused.error().message.find(std::to_string(getpid())) != std::string::npos);
}

TEST_CASE("what is moved is looked at afterwards, and goes back where it is something else", "[move]") {
  test::Folder folder;
  auto const intake = intake_in(folder.path());
  put(intake.in / "a.pdf", "meant");
  put(folder / "other", "other");
  struct stat meant {};
  REQUIRE(stat((intake.in / "a.pdf").c_str(), &meant) == 0);
  auto const in = OpenFolder::open(intake.in), originals = OpenFolder::open(intake.originals);
  REQUIRE((in && originals));
  FileMeant const same{[&](struct stat const& found) { return found.st_ino == meant.st_ino; }};
  SECTION("itself") {
    CHECK(*move_file(*in, "a.pdf", *originals, "a.pdf", same) == MoveEnd::moved);
    CHECK(read(intake.originals / "a.pdf") == "meant");
  }
  SECTION("another file") {
    fs::rename(folder / "other", intake.in / "a.pdf");
    CHECK(*move_file(*in, "a.pdf", *originals, "a.pdf", same) == MoveEnd::exchanged);
    CHECK(read(intake.in / "a.pdf") == "other");
    CHECK(fs::is_empty(intake.originals));
  }
  SECTION("a link") {
    fs::remove(intake.in / "a.pdf");
    fs::create_symlink(folder / "other", intake.in / "a.pdf");
    CHECK(*move_file(*in, "a.pdf", *originals, "a.pdf", same) == MoveEnd::exchanged);
    CHECK(fs::is_symlink(intake.in / "a.pdf"));
    CHECK(fs::is_empty(intake.originals));
  }
  SECTION("put back under another name where its own is taken") {
    put(intake.originals / "b.pdf", "b");
    CHECK(*put_back(*originals, "b.pdf", *in, "a.pdf") == "a-2.pdf");
    CHECK(read(intake.in / "a-2.pdf") == "b");
  }
}

TEST_CASE("a held file that somebody replaced is never filed under the old note", "[custody]") {
  test::Folder folder;
  auto const intake = intake_in(folder.path());
  auto ledger = Ledger::open(intake.ledger, true);
  REQUIRE(ledger);
  FileMover custody(*ledger, intake, "");
  auto const place = intake.held / "fox.pdf";
  put(place, "the fox");
  put(place.string() + ".txt", "why");
  auto entry = entry_of(folder.path(), "fox.pdf");
  REQUIRE(ledger->change([&](LedgerChange& change) { change.add(entry); }));
  SECTION("nobody did") {
    REQUIRE(custody.move_on(entry, LedgerState::taken, {}));
    CHECK(entry.state == LedgerState::taken);
    CHECK(read(intake.originals / "fox.pdf") == "the fox");
  }
  SECTION("copied back from a backup: another file, the same bytes") {
    fs::copy_file(place, folder / "copy");
    fs::rename(folder / "copy", place);
    REQUIRE(custody.move_on(entry, LedgerState::taken, {}));
    CHECK(entry.state == LedgerState::taken);
  }
  SECTION("a corrected file is a new arrival") {
    put(folder / "corrected", "the corrected fox");
    fs::rename(folder / "corrected", place);
    REQUIRE(custody.move_on(entry, LedgerState::taken, {}));
    CHECK(entry.state == LedgerState::discarded);
    CHECK(entry.reason.find("new arrival") != std::string::npos);
    CHECK(read(intake.in / "fox.pdf") == "the corrected fox");
    CHECK(fs::is_empty(intake.originals));
    CHECK(fs::is_empty(intake.held));
  }
  SECTION("a link") {
    put(folder / "secret", "secret");
    fs::remove(place);
    fs::create_symlink(folder / "secret", place);
    REQUIRE(custody.move_on(entry, LedgerState::taken, {}));
    CHECK(entry.state == LedgerState::missing);
    CHECK(fs::is_symlink(place));
    CHECK(fs::is_empty(intake.originals));
  }
  auto const found = ledger->find(entry.id);
  REQUIRE((found && *found));
  CHECK((*found)->state == entry.state);
}

}  // namespace layright
