#include <CLI/CLI.hpp>
#include <cstdio>
#include <memory>

#include "command/command.h"
#include "command/ledger_options.h"
#include "watch/wall_clock.h"

namespace layright {
namespace {

struct SpoiledWords {
  LedgerWords ledger;
  std::string why;
  int sheets = 1;
};

ExitStatus run_spoiled(SpoiledWords const& w) {
  auto const found = find_ledger(w.ledger);
  if (!found) return fail(found.error());
  auto ledger = Ledger::open(found->path, false);
  if (!ledger) return fail(ledger.error());
  auto const outputs = ledger->outputs_of(w.ledger.id);
  if (!outputs) return fail(outputs.error());
  if (outputs->empty())
    return fail({ErrorKind::no_input,
                 "job " + std::to_string(w.ledger.id) + " was never laid in " + found->path.string() + ", so no sheet of it can have been spoiled"});
  auto const written = ledger->change([&](LedgerChange& change) {
    change.spoil(w.ledger.id, now_ms(), person(w.ledger), w.sheets, w.why);
    change.report(
        {w.ledger.id, now_ms(), person(w.ledger), "spoiled", std::to_string(w.sheets) + (w.sheets == 1 ? " sheet: " : " sheets: ") + w.why});
  });
  if (!written) return fail(written.error());
  std::fprintf(stdout, "job %lld: %d spoiled, noted; layright again %lld lays it once more\n", w.ledger.id, w.sheets, w.ledger.id);
  return ExitStatus::ready;
}

}  // namespace

Run add_spoiled(CLI::App& command) {
  auto words = std::make_shared<SpoiledWords>();
  add_job_options(command, words->ledger);
  command.add_option("--why", words->why, "what went wrong: wrong tray, crooked, jam …")->required()->type_name("TEXT");
  command.add_option("--sheets", words->sheets, "how many sheets")->check(CLI::Range(1, 10000))->type_name("N")->capture_default_str();
  return [words] { return run_spoiled(*words); };
}

}  // namespace layright
