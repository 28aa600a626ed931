#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>

#include "base/version.h"
#include "command/command.h"
#include "command/day_words.h"
#include "command/ledger_options.h"
#include "geometry/length.h"
#include "report/json_turns.h"
#include "report/report.h"
#include "sheet/ledger_address.h"
#include "watch/gang_batch.h"
#include "watch/held_note.h"
#include "watch/ledger_check.h"
#include "watch/ledger_copy.h"
#include "watch/ledger_json.h"
#include "watch/wall_clock.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

struct ListWords {
  LedgerWords ledger;
  std::vector<std::string> what;
  std::string state, day, name, format = "text";
  bool sheets = false;
};

/// RFC 4180: quotes around what holds a comma, a quote or a line break. What a table program would take for a formula begins with an
/// apostrophe, which makes it text (common practice, no published source).
std::string csv(std::string text) {
  if (!text.empty() && std::string_view("=+-@\t\r").find(text[0]) != std::string_view::npos) text.insert(0, 1, '\'');
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string out = "\"";
  for (char c : text) out += c == '"' ? std::string("\"\"") : std::string(1, c);
  return out + "\"";
}

/// Why a person has to look at it: held, or the film of it is not what it should be.
std::string remark(LedgerEntry const& e) {
  if (!e.reason.empty()) return ": " + e.reason;
  return e.send.empty() || e.send == "sent" || e.send == "wanted" ? "" : ": " + e.send + (e.send_reported.empty() ? "" : ": " + e.send_reported);
}

class List {
 public:
  explicit List(std::string const& format) : json_(format == "json"), csv_(format == "csv") {
    if (json_) std::printf("{\"layright\": \"%s\", \"jobs\": [", program_version());
    if (csv_) std::puts("job,intake,arrived,state,name,bytes,sha256,target,reason");
  }
  void put(LedgerEntry const& e) {
    if (json_) {
      std::printf("%s\n%s", count_ > 0 ? "," : "", json_text(entry_json(e)).c_str());
    } else if (csv_) {
      std::printf("%lld,%s,%s,%s,%s,%lld,%s,%s,%s\n", e.id, csv(shown_name(e.intake)).c_str(), utc_text(e.arrived).c_str(),
                  std::string(word(e.state)).c_str(), csv(shown_name(e.name)).c_str(), e.mark.bytes, e.digest.c_str(),
                  csv(shown_name(e.target)).c_str(), csv(shown_name(e.reason)).c_str());
    } else {
      std::printf("%6lld  %s  %-9s  %s%s\n", e.id, local_text(e.arrived).c_str(), std::string(word(e.state)).c_str(), shown_name(e.name).c_str(),
                  shown_name(remark(e)).c_str());
    }
    ++count_;
  }
  /// What waits for a sheet, last.
  void end(std::vector<WaitingSheet> const& waiting) const {
    if (json_) std::printf("%s], \"waiting\": %s}\n", count_ > 0 ? "\n" : "", json_text(waiting_json(waiting)).c_str());
    else if (!csv_ && count_ == 0) std::puts("none");
    if (json_ || csv_) return;
    for (auto const& w : waiting)
      std::printf("%s, %s: %d %s, %.0f%% of a sheet (laid at %.0f%%). To have it now: layright gang now\n", shown_name(w.intake).c_str(),
                  shown_name(w.target).c_str(), w.jobs, w.jobs == 1 ? "job waits" : "jobs wait", w.fill_pct, w.wanted_pct);
  }

 private:
  bool json_, csv_;
  long long count_ = 0;
};

ExitStatus list(ListWords const& w) {
  LedgerFilter filter{{}, w.day, w.name, w.ledger.intake};
  if (!w.state.empty()) {
    filter.state = parse_ledger_state(w.state);
    if (!filter.state)
      return fail({ErrorKind::usage,
                   "--state: there is no '" + w.state + "'; say moving, taken, waiting, placing, ready, held, discarded, skipped or missing"});
  }
  auto const ledgers = find_ledgers(w.ledger);
  if (!ledgers) return fail(ledgers.error());
  List out(w.format);
  std::vector<WaitingSheet> waiting;
  for (auto const& found : *ledgers) {
    auto const ledger = Ledger::open(found.path, false);
    if (!ledger) return fail(ledger.error());
    if (auto const listed = ledger->list(filter, [&](LedgerEntry const& e) { out.put(e); }); !listed) return fail(listed.error());
    for (auto const& intake : found.intakes) {
      auto const sheets = waiting_sheets(*ledger, intake, found.configuration);
      if (!sheets) return fail(sheets.error());
      if (filter.intake.empty() || filter.intake == intake.name) waiting.insert(waiting.end(), sheets->begin(), sheets->end());
    }
  }
  out.end(waiting);
  return ExitStatus::ready;
}

ExitStatus show(ListWords const& w) {
  auto const found = find_ledger(w.ledger);
  if (!found) return fail(found.error());
  auto const ledger = Ledger::open(found->path, false);
  if (!ledger) return fail(ledger.error());
  auto const& number = w.what[1];
  if (number.empty() || number.size() > 15 || number.find_first_not_of("0123456789") != std::string::npos)
    return fail({ErrorKind::usage, "'" + number + "' is no number of a job"});
  auto const entry = ledger->find(std::stoll(number));
  if (!entry) return fail(entry.error());
  if (!*entry) return fail({ErrorKind::no_input, "there is no job " + number + " in " + found->path.string()});
  auto const& e = **entry;
  auto const outputs = ledger->outputs_of(e.id);
  auto const events = ledger->events_of(e.id);
  if (!outputs || !events) return fail(outputs ? events.error() : outputs.error());
  if (w.format == "json")
    return std::printf("%s\n",
                       with_turns_escaped(job_json(*ledger, e, *outputs, *events).dump(2, ' ', false, Json::error_handler_t::replace)).c_str()),
           ExitStatus::ready;
  std::printf("job %lld: %s\n", e.id, shown_name(e.name).c_str());
  auto const line = [](char const* what, std::string const& text) {
    if (!text.empty()) std::printf("  %-10s %s\n", what, shown_name(text).c_str());
  };
  line("state", std::string(word(e.state)));
  line("why", e.reason);
  line("intake", e.intake);
  line("target", e.target);
  line("arrived", local_text(e.arrived) + ", " + std::to_string(e.mark.bytes) + " bytes");
  line("sha256", e.digest);
  line("original", e.place);
  if (e.same_as > 0) line("same as", "job " + std::to_string(e.same_as));
  if (e.batch > 0 && !e.is_batch()) line("sheet", "job " + std::to_string(e.batch));
  if (e.is_batch()) {
    auto const members = ledger->members_of(e.id);
    if (!members) return fail(members.error());
    for (auto const& member : *members) line("piece", piece_words(member));
  }
  line("sent", e.send + (e.press_job > 0 ? ", the press's job " + std::to_string(e.press_job) : "") +
                   (e.send_reported.empty() ? "" : ": " + e.send_reported));
  for (auto const& o : *outputs) line(o.kind.c_str(), o.path);
  for (auto const& f : parsed_list(e.findings))
    if (f.is_object())
      line("finding",
           (f.contains("page") ? place_of(f) + ", " : "") + f.value("level", "") + " " + f.value("check", "") + ": " + f.value("message", ""));
  for (auto const& v : *events) line(local_text(v.at).c_str(), v.who + ": " + v.what + (v.why.empty() ? "" : ", " + v.why));
  return ExitStatus::ready;
}

ExitStatus check(ListWords const& w) {
  auto const ledgers = find_ledgers(w.ledger);
  if (!ledgers) return fail(ledgers.error());
  bool agree = true;
  for (auto const& found : *ledgers) {
    auto const ledger = Ledger::open(found.path, false);
    if (!ledger) return fail(ledger.error());
    auto const sum = check_ledger(*ledger, found.intakes, [](std::string const& text) { std::printf("%s\n", shown_name(text).c_str()); });
    if (!sum) return fail(sum.error());
    agree = agree && sum->faults == 0;
    std::printf("%s: %lld jobs and %lld files looked at, %s\n", found.path.c_str(), sum->entries, sum->files,
                sum->faults == 0 ? "ledger and folders agree" : (std::to_string(sum->faults) + " disagreements").c_str());
  }
  return agree ? ExitStatus::ready : ExitStatus::hold;
}

ExitStatus copy(ListWords const& w) {
  auto const here = fs::current_path();
  auto const from = ledger_place(w.what[1], here), to = ledger_place(w.what[2], here);
  if (!from || !to) return fail(from ? to.error() : from.error());
  auto const copied = copy_ledger(*from, *to);
  if (!copied) return fail(copied.error());
  for (auto const& table : copied->tables)
    std::printf("%-8s %lld rows, the same in both (sha256 %s)\n", table.name.c_str(), table.rows, table.digest.substr(0, 16).c_str());
  if (copied->mended > 0) std::printf("%lld texts had bytes that are no UTF-8, which a server does not take; they are now U+FFFD\n", copied->mended);
  std::printf("copied and compared. Now write into layright.toml: ledger = \"%s\"\n", shown_name(to->native()).c_str());
  return ExitStatus::ready;
}

/// Of the used sheets, where it is known of any.
std::string toner_of(SheetsRow const& row) {
  bool const known = row.used > row.toner_not_known;
  return known ? format_number(static_cast<double>(row.toner.millionths) / 1e6, 2) : "";
}

std::string toner_told(SheetsRow const& row) {
  auto const cost = toner_of(row);
  if (cost.empty()) return "";
  return "; toner about " + cost + (row.toner.currency.empty() ? "" : " " + shown_name(row.toner.currency)) +
         (row.toner_not_known > 0 ? ", without " + std::to_string(row.toner_not_known) + (row.toner_not_known == 1 ? " sheet" : " sheets") : "");
}

ExitStatus sheets(ListWords const& w) {
  auto const ledgers = find_ledgers(w.ledger);
  if (!ledgers) return fail(ledgers.error());
  Json rows = Json::array();
  if (w.format == "csv") std::puts("day,target,used,spoiled,why,planned,toner,currency");
  for (auto const& found : *ledgers) {
    auto const ledger = Ledger::open(found.path, false);
    if (!ledger) return fail(ledger.error());
    auto const sum = ledger->sheets();
    if (!sum) return fail(sum.error());
    for (auto const& r : *sum) {
      if (!w.day.empty() && r.day != w.day) continue;
      if (w.format == "json") rows.push_back(sheets_json(r));
      else if (w.format == "csv")
        std::printf("%s,%s,%lld,%lld,%s,%lld,%s,%s\n", r.day.c_str(), csv(shown_name(r.target)).c_str(), r.used, r.spoiled,
                    csv(shown_name(r.why)).c_str(), r.planned, toner_of(r).c_str(), csv(shown_name(r.toner.currency)).c_str());
      else
        std::printf("%s  %-20s  %5lld used  %5lld planned  %4lld spoiled%s%s\n", r.day.c_str(), r.target.c_str(), r.used, r.planned, r.spoiled,
                    r.why.empty() ? "" : (": " + shown_name(r.why)).c_str(), toner_told(r).c_str());
    }
  }
  if (w.format == "json") std::printf("%s\n", json_text({{"layright", program_version()}, {"sheets", rows}}).c_str());
  return ExitStatus::ready;
}

ExitStatus run_ledger(ListWords const& w) {
  if (w.sheets) return sheets(w);
  if (w.what.empty()) return list(w);
  if (w.what[0] == "check" && w.what.size() == 1) return check(w);
  if (w.what[0] == "show" && w.what.size() == 2) return show(w);
  if (w.what[0] == "copy" && w.what.size() == 3) return copy(w);
  return fail(
      {ErrorKind::usage,
       "say layright ledger (a list), ledger show ID (one job), ledger check (ledger against folders) or ledger copy FROM TO (to a server, or "
       "back)"});
}

}  // namespace

Run add_ledger(CLI::App& command) {
  auto words = std::make_shared<ListWords>();
  command
      .add_option(
          "WHAT", words->what,
          "show ID: all about one job; check: do ledger and folders agree; copy FROM TO: to another ledger, a file or postgresql://…; else the list")
      ->expected(0, 3);
  add_ledger_options(command, words->ledger);
  command.add_option("--state", words->state, "only this state: ready, held, discarded, skipped …")->type_name("STATE");
  command.add_option("--day", words->day, "only this day (TZ): today, yesterday, a weekday, 2026-11-27, 11/27 or Nov 27")->type_name("DAY");
  command.add_option("--name", words->name, "only names with this in them, or of this pattern")->type_name("NAME");
  command.add_option("--format", words->format, "text (the default), json or csv")
      ->check(CLI::IsMember({"text", "json", "csv"}))
      ->type_name("FORMAT");
  command.add_flag("--sheets", words->sheets, "sheets used, planned and spoiled, by day and target");
  return [words] {
    if (words->day.empty()) return run_ledger(*words);
    auto const day = parse_day(words->day, now_ms());
    if (!day) return fail({day.error().kind, "--day: " + day.error().message});
    words->day = *day;
    return run_ledger(*words);
  };
}

}  // namespace layright
