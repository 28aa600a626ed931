#include "command/ledger_options.h"

#include <pwd.h>
#include <unistd.h>

#include "command/command.h"
#include "command/target_options.h"
#include "report/report.h"
#include "sheet/ledger_address.h"
#include "watch/decide.h"
#include "watch/job_code.h"
#include "watch/ledger_lock.h"
#include "watch/watch.h"

namespace layright {

void add_ledger_options(CLI::App& command, LedgerWords& words) {
  command.add_option("--config", words.config, "the configuration; else the one that is found")->type_name("FILE");
  command.add_option("--intake", words.intake, "which intake, where several have ledgers")->type_name("NAME");
}

void add_job_options(CLI::App& command, LedgerWords& words) {
  command
      .add_option_function<std::string>(
          "ID",
          [&words](std::string const& text) {
            auto const code = parse_job_code(text);
            if (!code) throw CLI::ValidationError("ID", code.error().message);
            words.id = code->id;
            words.intake_of_id = code->intake;
          },
          "the job number: see layright ledger, the job sheet's barcode, or the note beside a held file")
      ->required();
  add_ledger_options(command, words);
  command.add_option("--by", words.by, "who decides; else the name of the user")->type_name("NAME");
}

Result<std::vector<FoundLedger>> find_ledgers(LedgerWords const& words) {
  auto configuration = configuration_of(words.config);
  if (!configuration) return configuration.error();
  std::string const& named = words.intake.empty() ? words.intake_of_id : words.intake;
  if (!named.empty() && !configuration->intakes.contains(named))
    return Error{ErrorKind::usage, "there is no intake '" + named + "' in the configuration"};
  std::vector<FoundLedger> ledgers;
  for (auto const& [name, intake] : configuration->intakes) {
    if (!named.empty() && intake.ledger != configuration->intakes.at(named).ledger) continue;
    FoundLedger* found = nullptr;
    for (auto& each : ledgers)
      if (each.path == intake.ledger) found = &each;
    if (!found) found = &ledgers.emplace_back(FoundLedger{*configuration, {}, intake.ledger});
    found->intakes.push_back(intake);
  }
  if (ledgers.empty()) return Error{ErrorKind::usage, "no intake in the configuration, so no ledger. --config names another"};
  return ledgers;
}

Result<FoundLedger> find_ledger(LedgerWords const& words) {
  auto ledgers = find_ledgers(words);
  if (!ledgers) return ledgers.error();
  if (ledgers->size() == 1) return std::move(ledgers->front());
  std::string names;
  for (auto const& each : *ledgers) names += (names.empty() ? "" : ", ") + each.intakes.front().name;
  return Error{ErrorKind::usage, "several ledgers: say --intake, one of (" + names + ")"};
}

std::string person(LedgerWords const& words) {
  if (!words.by.empty()) return words.by;
  passwd const* const user = getpwuid(getuid());
  return user ? user->pw_name : "user " + std::to_string(getuid());
}

ExitStatus have_it_done(FoundLedger const& found, std::string const& what) {
  if (int const watcher = lock_holder(found.path); watcher > 0) {
    auto const which = is_server_address(found.path.native()) ? std::string() : " (process " + std::to_string(watcher) + ")";
    std::fprintf(stdout, "%s: noted. The running watch%s will do it.\n", what.c_str(), which.c_str());
    return ExitStatus::ready;
  }
  WatchOptions options;
  options.configuration = found.configuration.path;
  for (auto const& intake : found.intakes) options.names.push_back(intake.name);
  options.once = true;
  options.arrivals = false;
  auto const end = watch(options);
  if (!end) return fail(end.error());
  if (end->trouble) return status_of(end->trouble->kind);
  return end->held ? ExitStatus::hold : ExitStatus::ready;
}

ExitStatus decide_and_do(LedgerWords const& words, DecideBy const& what) {
  auto const found = find_ledger(words);
  if (!found) return fail(found.error());
  auto ledger = Ledger::open(found->path, false);
  if (!ledger) return fail(ledger.error());
  auto const decided =
      decide(*ledger, words.id, person(words), [&](LedgerEntry& entry, Story const& story) { return what(entry, story, found->configuration); });
  if (!decided) return fail(decided.error());
  return have_it_done(*found, "job " + std::to_string(words.id));
}

}  // namespace layright
