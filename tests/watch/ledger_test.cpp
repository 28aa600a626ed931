// The ledger as a value: what is written is read, transactions are whole, names that readers take for the same are found.
#include "watch/ledger.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <set>

#include <unistd.h>

#include "support/program.h"
#include "watch/free_name.h"
#include "watch/ledger_lock.h"

namespace layright {
namespace {

LedgerEntry fox(std::filesystem::path const& folder) {
  LedgerEntry e;
  e.intake = "desk";
  e.name = "sub/fo\xffx.pdf";
  e.digest = std::string(64, 'a');
  e.mark = {1, 2, 3, 4};
  e.arrived = e.changed = 1'764'000'000'000;
  e.state = LedgerState::taken;
  e.place = (folder / "fo\xffx.pdf").native();
  e.target = "film";
  e.reason = "a word with ' and \" in it";
  return e;
}

Ledger fresh(test::Folder const& folder) {
  auto ledger = Ledger::open(folder / "l.db", true);
  REQUIRE(ledger);
  return std::move(*ledger);
}

void add(Ledger& ledger, LedgerEntry& entry) {
  REQUIRE(ledger.change([&](LedgerChange& change) { change.add(entry); }));
}

}  // namespace

TEST_CASE("what is written into the ledger is read from it, any bytes", "[ledger]") {
  test::Folder folder;
  auto ledger = fresh(folder);
  auto entry = fox(folder.path());
  add(ledger, entry);
  CHECK(entry.id == 1);
  entry.state = LedgerState::held;
  entry.send_reported = "told";
  entry.render = "pictures";
  LedgerOutput output{0, entry.id, 1, "pdf", (folder / "out.pdf").native(), "d", 5, true, 6, 2, 3};
  REQUIRE(ledger.change([&](LedgerChange& change) {
    change.update(entry);
    change.add(output);
    change.report({entry.id, 7, "me", "held", "because"});
    change.spoil(entry.id, 8, "me", 2, "crooked");
  }));
  auto const again = Ledger::open(folder / "l.db", false);
  REQUIRE(again);
  auto const found = again->find(1);
  REQUIRE((found && *found));
  CHECK((*found)->name == entry.name);
  CHECK((*found)->place == entry.place);
  CHECK((*found)->mark == entry.mark);
  CHECK((*found)->state == LedgerState::held);
  CHECK((*found)->reason == entry.reason);
  CHECK((*found)->send_reported == "told");
  CHECK((*found)->render == "pictures");
  auto const outputs = again->outputs_of(1);
  REQUIRE((outputs && outputs->size() == 1));
  CHECK(outputs->front().path == output.path);
  CHECK(outputs->front().copies == 3);
  CHECK(outputs->front().toner.millionths == -1);
  auto const events = again->events_of(1);
  REQUIRE((events && events->size() == 1));
  CHECK(events->front().why == "because");
  auto const sheets = again->sheets();
  REQUIRE(sheets);
  long long used = 0, spoiled = 0;
  for (auto const& row : *sheets) used += row.used, spoiled += row.spoiled;
  CHECK(used == 6);
  CHECK(sheets->front().toner_not_known == 6);
  CHECK(spoiled == 2);
}

TEST_CASE("film is used when the press says so, or when it is ready where nobody sends", "[ledger]") {
  test::Folder folder;
  auto ledger = fresh(folder);
  auto entry = fox(folder.path());
  add(ledger, entry);
  LedgerOutput output{0, entry.id, 1, "pdf", (folder / "out.pdf").native(), "d", 5, true, 6, 2, 3, {150'000, "EUR"}};
  entry.run = 1;
  REQUIRE(ledger.change([&](LedgerChange& change) { change.add(output); }));
  auto const [send, used, planned] = GENERATE(table<std::string, long long, long long>({
      {"", 6, 0},
      {"wanted", 0, 6},
      {"sending", 0, 6},
      {"refused", 0, 6},
      {"sent", 6, 0},
      {"film spoiled", 6, 0},
  }));
  entry.send = send;
  REQUIRE(ledger.change([&](LedgerChange& change) { change.update(entry); }));
  auto const rows = ledger.sheets();
  REQUIRE((rows && rows->size() == 1));
  CAPTURE(send);
  CHECK(rows->front().used == used);
  CHECK(rows->front().planned == planned);
  CHECK(rows->front().toner.millionths == (used > 0 ? 450'000 : 0));
  CHECK(rows->front().toner.currency == "EUR");
  CHECK(rows->front().toner_not_known == 0);
}

TEST_CASE("a transaction that does not come to its end has not been", "[ledger]") {
  test::Folder folder;
  auto ledger = fresh(folder);
  auto entry = fox(folder.path());
  CHECK(!ledger.change([&](LedgerChange& change) {
    change.add(entry);
    throw std::runtime_error("broken off");
  }));
  CHECK(!*ledger.find(1));
  add(ledger, entry);
  CHECK(*ledger.find(entry.id));
}

TEST_CASE("names that some readers take for the same are found, and another is given", "[ledger]") {
  test::Folder folder;
  auto ledger = fresh(folder);
  auto entry = fox(folder.path());
  entry.place = (folder / "F\u00dcCHSE.pdf").native();  // composed, capitals
  add(ledger, entry);
  std::ofstream(folder / "F\u00dcCHSE.pdf") << "x";
  Promised promised;
  auto const stem = [&](char const* name) { return free_stem(ledger, folder.path(), name, {".pdf", ".job.pdf"}, promised).value_or("?"); };
  CHECK(stem("fu\u0308chse") == "fu\u0308chse-2");  // decomposed, small letters
  CHECK(stem("fu\u0308chse") == "fu\u0308chse-3");  // the second is promised
  CHECK(stem("owl") == "owl");
  std::ofstream(folder / "kite.job.pdf") << "x";
  CHECK(stem("kite") == "kite-2");
  auto const longest = stem(std::string(255, 'n').c_str());
  CHECK(longest.size() == 255 - 8);
  CHECK(stem(std::string(255, 'n').c_str()).size() == 255 - 8);
  // Shortened between letters, never inside one.
  std::string umlauts;
  for (int i = 0; i < 127; ++i) umlauts += "\u00fc";
  CHECK(stem(umlauts.c_str()).size() == 246);
}

TEST_CASE("ten thousand files of one name are named quickly", "[ledger]") {
  test::Folder folder;
  auto ledger = fresh(folder);
  Promised promised;
  std::set<std::string> given;
  for (int i = 0; i < 10000; ++i) given.insert(free_stem(ledger, folder.path(), "fox", {".pdf"}, promised).value_or("?"));
  CHECK(given.size() == 10000);
}

TEST_CASE("a ledger's lock tells who has it", "[ledger]") {
  test::Folder folder;
  auto lock = LedgerLock::take(folder / "l.db");
  REQUIRE(lock);
  // Another process asks: a lock does not stand in the way of its own process.
  auto const asked = test::run({"/usr/bin/python3", "-c",
                                "import fcntl,struct,sys\n"
                                "f=open(sys.argv[1],'r+')\n"
                                "r=fcntl.fcntl(f,fcntl.F_GETLK,struct.pack('hhqqi4x',fcntl.F_WRLCK,0,0,0,0))\n"
                                "print(struct.unpack('hhqqi4x',r)[4])",
                                (folder / "l.db.lock").native()},
                               folder.path());
  CHECK(asked.out == std::to_string(getpid()) + "\n");
}

}  // namespace layright
