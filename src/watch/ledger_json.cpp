#include "watch/ledger_json.h"

#include <nlohmann/json.hpp>

#include "base/version.h"
#include "watch/wall_clock.h"

namespace layright {

Json parsed_list(std::string const& text) {
  auto json = Json::parse(text.empty() ? "[]" : text, nullptr, false);
  return json.is_array() ? json : Json::array();
}

Json entry_json(LedgerEntry const& e) {
  return {{"job", e.id},
          {"intake", e.intake},
          {"name", e.name},
          {"sha256", e.digest},
          {"bytes", e.mark.bytes},
          {"modified", utc_text(e.mark.modified_ns / 1'000'000)},
          {"arrived", utc_text(e.arrived)},
          {"changed", utc_text(e.changed)},
          {"state", word(e.state)},
          {"original", e.place},
          {"target", e.target},
          {"copies", e.copies > 0 ? Json(e.copies) : Json()},
          {"runs", e.run},
          {"tries", e.tries},
          {"verdict", e.verdict},
          {"reason", e.reason},
          {"same_as", e.same_as > 0 ? Json(e.same_as) : Json()},
          {"batch", e.batch > 0 ? Json(e.batch) : Json()},
          {"send", e.send},
          {"send_told", e.send_reported},
          {"press_job", e.press_job > 0 ? Json(e.press_job) : Json()},
          {"findings", parsed_list(e.findings)}};
}

Json job_json(Ledger const& ledger, LedgerEntry const& e, std::vector<LedgerOutput> const& outputs, std::vector<LedgerEvent> const& events) {
  Json json{{"layright", program_version()}, {"ledger", ledger.path().string()}};
  json.update(entry_json(e));
  json["outputs"] = Json::array();
  for (auto const& o : outputs)
    json["outputs"].push_back({{"run", o.run},
                               {"kind", o.kind},
                               {"path", o.path},
                               {"sha256", o.digest},
                               {"bytes", o.bytes},
                               {"made", utc_text(o.made)},
                               {"pages", o.pages},
                               {"copies", o.copies}});
  json["events"] = Json::array();
  for (auto const& v : events) json["events"].push_back({{"time", utc_text(v.at)}, {"who", v.who}, {"what", v.what}, {"why", v.why}});
  return json;
}

Json sheets_json(SheetsRow const& r) {
  return {{"day", r.day},
          {"target", r.target},
          {"used", r.used},
          {"planned", r.planned},
          {"spoiled", r.spoiled},
          {"why", r.why},
          {"toner_cost", r.toner_not_known == r.used ? Json() : Json(static_cast<double>(r.toner.millionths) / 1e6)},
          {"currency", r.toner.currency},
          {"toner_not_known", r.toner_not_known}};
}

Json waiting_json(std::vector<WaitingSheet> const& waiting) {
  auto list = Json::array();
  for (auto const& w : waiting)
    list.push_back({{"intake", w.intake},
                    {"target", w.target},
                    {"jobs", w.jobs},
                    {"fill_pct", w.fill_pct},
                    {"wanted_pct", w.wanted_pct},
                    {"since", utc_text(w.since)}});
  return list;
}

}  // namespace layright
