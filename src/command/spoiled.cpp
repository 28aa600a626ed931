#include <CLI/CLI.hpp>
#include <cstdio>
#include <memory>

#include "command/command.h"
#include "command/ledger_options.h"
#include "watch/decide.h"

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
  auto const counted = count_spoiled(*ledger, w.ledger.id, person(w.ledger), w.sheets, w.why);
  if (!counted) return fail(counted.error());
  std::fprintf(stdout, "job %lld: %d spoiled, noted. To lay it once more: layright again %lld\n", w.ledger.id, w.sheets, w.ledger.id);
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
