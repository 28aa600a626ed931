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
  int sheets = 1, sheet = 0;
  long long piece = 0;
};

/// Counts it, then makes it again.
ExitStatus sheet_again(SpoiledWords const& w, Ledger& ledger) {
  auto const sheets = sheets_of_job(ledger, w.ledger.id);
  if (!sheets) return fail(sheets.error());
  if (w.sheet > *sheets)
    return fail(usage_error("job " + std::to_string(w.ledger.id) + " has " + std::to_string(*sheets) + (*sheets == 1 ? " sheet" : " sheets")));
  auto const counted = count_spoiled(ledger, w.ledger.id, person(w.ledger), 1, w.why);
  if (!counted) return fail(counted.error());
  return decide_and_do(w.ledger, [&](LedgerEntry& entry, Story const& story, Configuration const&) {
    return lay_again(entry, story, {w.sheet, 0, false});
  });
}

/// No sheet is spoiled by it: the piece is laid once more with what else waits.
ExitStatus piece_again(SpoiledWords const& w, Ledger& ledger) {
  auto const piece = ledger.find(w.piece);
  if (!piece) return fail(piece.error());
  if (!*piece || (*piece)->batch != w.ledger.id || (*piece)->is_batch())
    return fail(usage_error("job " + std::to_string(w.piece) + " lies on no sheet of job " + std::to_string(w.ledger.id)));
  auto words = w.ledger;
  words.id = w.piece;
  return decide_and_do(words, [&](LedgerEntry& entry, Story const& story, Configuration const&) {
    auto event = lay_again(entry, story, {0, 1, false});
    if (event) event->why += " for one that was spoiled: " + w.why;
    return event;
  });
}

ExitStatus run_spoiled(SpoiledWords const& w) {
  auto const found = find_ledger(w.ledger);
  if (!found) return fail(found.error());
  auto ledger = Ledger::open(found->path, false);
  if (!ledger) return fail(ledger.error());
  if (w.sheet > 0) return sheet_again(w, *ledger);
  if (w.piece > 0) return piece_again(w, *ledger);
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
  auto* const sheet = command.add_option("--sheet", words->sheet, "make this sheet of the job again")->check(CLI::Range(1, 10000))->type_name("N");
  command.add_option("--piece", words->piece, "lay this job of a shared sheet again, one copy")
      ->check(CLI::Range(1LL, 1000000000000LL))
      ->type_name("ID")
      ->excludes(sheet);
  return [words] { return run_spoiled(*words); };
}

}  // namespace layright
