#include "desk/day_json.h"

#include <algorithm>
#include <ctime>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "base/version.h"
#include "desk/customer_request.h"
#include "desk/decision_words.h"
#include "report/plain_words.h"
#include "report/report.h"
#include "watch/decide.h"
#include "watch/gang_batch.h"
#include "watch/intake_settings.h"
#include "watch/ledger_json.h"
#include "watch/wall_clock.h"
#include "write/move_file.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

/// Of one that waits for a sheet that nobody makes yet.
std::optional<WaitingPiece> waiting_piece(LedgerEntry const& e) {
  if (e.state != LedgerState::waiting || e.batch > 0 || !e.decision.empty()) return std::nullopt;
  auto piece = parse_waiting_piece(e.gang);
  return piece ? std::optional(std::move(*piece)) : std::nullopt;
}

Json row_json(LedgerEntry const& e) {
  fs::path const name(e.name);
  auto const waits = waiting_piece(e);
  return {{"job", e.id},
          {"name", shown_name(name.filename().native())},
          {"folder", shown_name(name.parent_path().native())},
          {"intake", shown_name(e.intake)},
          {"arrived", utc_text(e.arrived)},
          {"changed", utc_text(e.changed)},
          {"state", word(e.state)},
          {"since", waits ? Json(utc_text(waits->since)) : Json()},
          {"sha256", e.digest},
          {"decided", !e.decision.empty() || (waits && waits->now)},
          {"target", shown_name(e.target)},
          {"reason", plain_words(shown_name(e.reason))},
          {"send", e.send},
          {"send_told", shown_name(e.send_reported)}};
}

bool is_working(LedgerEntry const& e) { return !(e.state == LedgerState::ready && e.send == "wanted") || !e.decision.empty(); }

/// What waits to share a sheet is in hand once its sheet is being made; before, it is in a list of its own.
Result<Json> unfinished_json(Ledger const& ledger, DayList const& asked) {
  bool const of_waiting = asked.name == "waiting";
  Json rows = Json::array();
  int total = 0;
  auto const take = [&](LedgerEntry const& e) {
    if (total++ >= asked.from && std::ssize(rows) < asked.most) rows.push_back(row_json(e));
  };
  if (!of_waiting) {
    auto const open = ledger.unfinished();
    if (!open) return open.error();
    for (auto const& e : *open)
      if (is_working(e)) take(e);
  }
  LedgerFilter waiting;
  waiting.state = LedgerState::waiting;
  auto const listed = ledger.list(waiting, [&](LedgerEntry const& e) {
    if (e.decision.empty() && of_waiting == (e.batch == 0)) take(e);
  });
  if (!listed) return listed.error();
  return Json{{"list", asked.name}, {"from", asked.from}, {"total", total}, {"jobs", rows}};
}

bool sends(std::vector<Intake> const& intakes, std::string const& name) {
  auto const found = std::ranges::find(intakes, name, &Intake::name);
  return found != intakes.end() && settings_of(*found).send;
}

}  // namespace

long long day_begins(long long now) {
  auto const seconds = static_cast<std::time_t>(now / 1000);
  std::tm parts{};
  localtime_r(&seconds, &parts);
  parts.tm_hour = parts.tm_min = parts.tm_sec = 0;
  parts.tm_isdst = -1;
  return static_cast<long long>(std::mktime(&parts)) * 1000;
}

Result<Json> list_json(Ledger const& ledger, DayList const& asked, long long now) {
  if (asked.name == "working" || asked.name == "waiting") return unfinished_json(ledger, asked);
  if (asked.name != "held" && asked.name != "ready") return usage_error("there are the lists held, waiting, working and ready");
  LedgerFilter filter;
  filter.state = asked.name == "held" ? LedgerState::held : LedgerState::ready;
  filter.newest_first = asked.name == "ready";
  if (asked.name == "ready") filter.changed_since = day_begins(now);
  auto const total = ledger.count(filter);
  if (!total) return total.error();
  filter.from = asked.from;
  filter.most = asked.most;
  Json rows = Json::array();
  auto const listed = ledger.list(filter, [&](LedgerEntry const& e) { rows.push_back(row_json(e)); });
  if (!listed) return listed.error();
  return Json{{"list", asked.name}, {"from", asked.from}, {"total", *total}, {"jobs", rows}};
}

Result<Json> today_json(Ledger const& ledger, DeskShop const& shop, int watcher, long long now) {
  auto const day = local_text(now).substr(0, 10);
  Json json{{"layright", program_version()}, {"day", day}, {"watcher", watcher > 0}, {"lists", Json::object()}, {"film", Json::array()}};
  for (char const* name : {"held", "waiting", "working", "ready"}) {
    auto list = list_json(ledger, {name}, now);
    if (!list) return list.error();
    json["lists"][name] = std::move(*list);
  }
  std::vector<WaitingSheet> waiting;
  for (auto const& intake : shop.intakes) {
    auto const sheets = waiting_sheets(ledger, intake, shop.configuration);
    if (!sheets) return sheets.error();
    waiting.insert(waiting.end(), sheets->begin(), sheets->end());
  }
  json["waiting"] = waiting_json(waiting);
  auto const film = ledger.sheets();
  if (!film) return film.error();
  for (auto const& row : *film)
    if (row.day == day) json["film"].push_back(sheets_json(row));
  return json;
}

Result<Json> job_page_json(Ledger const& ledger, LedgerEntry const& entry, std::vector<Intake> const& intakes) {
  auto const outputs = ledger.outputs_of(entry.id);
  auto const events = ledger.events_of(entry.id);
  if (!outputs || !events) return outputs ? events.error() : outputs.error();
  auto json = job_json(ledger, entry, *outputs, *events);
  json.update(row_json(entry));
  for (std::size_t i = 0; i < events->size(); ++i) json["events"][i]["words"] = event_words((*events)[i]);
  json["history"] = events->size();
  bool const waits = entry.state == LedgerState::held && entry.decision.empty();
  json["questions"] = waits ? questions_json(entry) : Json::array();
  auto const piece = waiting_piece(entry);
  json["may_reject"] = waits || piece;
  json["may_lay_now"] = piece && !piece->now;
  json["ask_customer"] = waits ? customer_request_json(entry) : Json();
  auto after = entry;
  json["may_lay_again"] = lay_again(after, *events).has_value();
  json["may_decide_anew"] = json["may_lay_again"] == true && !release_words_of(*events).empty();
  json["pieces"] = Json::array();
  if (entry.is_batch()) {
    auto const members = ledger.members_of(entry.id);
    if (!members) return members.error();
    for (auto const& member : *members)
      json["pieces"].push_back({{"job", member.id}, {"name", shown_name(fs::path(member.name).filename().native())}});
  }
  json["may_count_spoiled"] = !outputs->empty();
  json["sends"] = sends(intakes, entry.intake);
  json["files"] = Json::array();
  for (char const* kind : {"laid", "sheet", "original"}) {
    auto const path = file_of_job(ledger, entry, kind);
    if (path && is_there(*path)) json["files"].push_back(kind);
  }
  return json;
}

Result<Json> film_json(Ledger const& ledger) {
  auto const film = ledger.sheets();
  if (!film) return film.error();
  Json rows = Json::array();
  for (auto const& row : *film) rows.push_back(sheets_json(row));
  return Json{{"layright", program_version()}, {"sheets", rows}};
}

Result<std::string> file_of_job(Ledger const& ledger, LedgerEntry const& entry, std::string const& kind) {
  if (kind == "original") return entry.place;
  auto const outputs = ledger.outputs_of(entry.id);
  if (!outputs) return outputs.error();
  std::string path;
  for (auto const& o : *outputs)
    if (o.there && o.kind == (kind == "laid" ? "pdf" : kind)) path = o.path;
  return path;
}

}  // namespace layright
