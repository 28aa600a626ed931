#include "desk/desk.h"

#include <fcntl.h>
#include <sys/stat.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>

#include "base/hex.h"
#include "base/version.h"
#include "desk/day_json.h"
#include "desk/drop.h"
#include "desk/guard.h"
#include "desk/job_steps.h"
#include "report/configuration_json.h"
#include "report/report.h"
#include "watch/ledger_lock.h"
#include "watch/wall_clock.h"

namespace layright {
namespace {

constexpr long long kMostProofBytes = 256LL << 20;
constexpr int kProofsAtOnce = 2;

struct PageName {
  std::string_view path, name;
};
constexpr PageName kPageNames[] = {
    {"", "today.html"}, {"job", "job.html"}, {"film", "film.html"}, {"settings", "settings.html"}, {"check", "check.html"}};

/// "/api/jobs/12" as its parts.
std::vector<std::string> steps_of(std::string const& path) {
  std::vector<std::string> steps;
  std::size_t at = 1;
  while (at <= path.size()) {
    auto const end = std::min(path.find('/', at), path.size());
    steps.push_back(path.substr(at, end - at));
    at = end + 1;
  }
  if (steps.size() > 1 && steps.back().empty()) steps.pop_back();
  if (steps.empty()) steps.emplace_back();
  return steps;
}

template <class T, class Use>
WebAnswer answer_of(Result<T> const& result, Use const& use) {
  return result ? use(*result) : error_of(result.error());
}

}  // namespace

Desk::Desk(DeskShop shop, DeskHands hands, CurrentShop::Read read)
    : ledger_(shop.ledger),
      kept_(shop.kept_beside()),
      shop_(std::move(shop), std::move(read)),
      hands_(std::move(hands)),
      sessions_(users_beside(kept_), hands_.passwords),
      token_(random_hexadecimal(32)),
      proofs_(scratch_.path(), kMostProofBytes, kProofsAtOnce),
      runner_(ledger_, hands_.do_decided),
      presses_(hands_.presses) {}

WebAnswer Desk::answer(WebRequest const& request) {
  ++requests_;
  auto refused = refusal(request, hosts_, tls_);
  if (refused) ++refused_;
  auto answer = refused ? std::move(*refused) : admitted(request);
  add_safe_headers(answer, tls_);
  return answer;
}

WebAnswer Desk::admitted(WebRequest const& request) {
  if (request.path.find("//") != std::string::npos) return error_answer(404, "There is nothing of that name.");
  auto const steps = steps_of(request.path);
  bool const gets = request.method == "GET";
  if (gets && steps[0] == "healthz" && steps.size() == 1) {
    auto const ledger = Ledger::open(ledger_, false);
    return answer_of(ledger, [](Ledger const&) { return WebAnswer{200, "text/plain; charset=utf-8", "ok\n"}; });
  }
  if (gets && steps[0] == "pages" && steps.size() == 2 && !steps[1].ends_with(".html")) return page_named(steps[1]);
  if (gets && request.path == "/login") return page_named("login.html");
  if (!gets && request.path == "/api/login") return login(request);
  bool const monitor = gets && request.path == "/metrics" && (request.from.empty() || request.from.starts_with("127.") || request.from == "::1");
  if (monitor) return metrics();  // for a program of this machine, which has no password
  auto const visitor = visitor_of(request);
  if (!visitor && (!gets || steps[0] == "api")) return error_answer(401, "Log in first.");
  if (!visitor) {
    WebAnswer elsewhere;
    elsewhere.status = 303;
    elsewhere.headers.emplace_back(
        "Location", "/login?then=" + (steps[0] == "job" && steps.size() == 2 && whole_number(steps[1], kMostJob) ? "/job/" + steps[1] : "/"));
    return elsewhere;
  }
  if (!gets && request.header("x-layright-token") != visitor->token) {
    ++refused_;
    return error_answer(403, "This page is of another session. Open it again.");
  }
  return routed(request, *visitor);
}

WebAnswer Desk::routed(WebRequest const& request, Visitor const& visitor) {
  auto const steps = steps_of(request.path);
  bool const gets = request.method == "GET";
  if (gets && request.path == "/metrics") return metrics();
  if (steps[0] == "api" && steps.size() >= 2) {
    if (gets && request.path == "/api/me") return me(visitor);
    if (!gets && request.path == "/api/logout") return logout(request);
    if (steps[1] == "jobs" && steps.size() >= 3) return job(request, steps, visitor);
    if (!gets && request.path == "/api/arrivals") return handed_in(request, visitor);
    if (!gets && request.path == "/api/waiting/now") return laid_now(request, visitor);
    if (!gets) return steps[1] == "checks" && steps.size() == 2 ? checked_upload(request) : error_answer(404, "There is nothing of that name.");
    if (steps[1] == "proofs" && steps.size() == 3) return proof(steps[2]);
    if (steps.size() != 2) return error_answer(404, "There is nothing of that name.");
    if (steps[1] == "settings") return settings();
    if (steps[1] == "presses") return presses();
    if (steps[1] == "events") return events();
    return answer_of(Ledger::open(ledger_, false), [&](Ledger const& ledger) {
      if (steps[1] == "today")
        return answer_of(today_json(ledger, *shop_.now(), lock_holder(ledger_), now_ms()), [&](Json json) {
          for (auto& list : json["lists"]) add_orders(list["jobs"]);
          json["trouble"] = shown_name(shop_.trouble());
          return json_answer(json);
        });
      if (steps[1] == "film") return answer_of(film_json(ledger), json_answer);
      if (steps[1] != "jobs") return error_answer(404, "There is nothing of that name.");
      auto const from = whole_number(request.asked("from"), 1'000'000'000), most = whole_number(request.asked("most"), kMostRows);
      return answer_of(list_json(ledger, {request.asked("list"), static_cast<int>(from.value_or(0)), static_cast<int>(most.value_or(50))}, now_ms()),
                       [&](Json json) {
                         add_orders(json["jobs"]);
                         return json_answer(json);
                       });
    });
  }
  if (gets)
    for (auto const& [path, name] : kPageNames)
      if (steps[0] == path && (steps.size() == 1 || (path == "job" && steps.size() == 2 && whole_number(steps[1], kMostJob))))
        return page_named(name);
  return error_answer(404, "There is nothing of that name.");
}

WebAnswer Desk::job(WebRequest const& request, std::vector<std::string> const& steps, Visitor const& visitor) {
  auto const id = whole_number(steps[2], kMostJob);
  if (!id) return error_answer(404, "That is no number of a job.");
  if (request.method == "POST")
    return steps.size() == 4 ? decided(request, *id, steps[3], visitor) : error_answer(404, "There is nothing of that name.");
  return answer_of(Ledger::open(ledger_, false), [&](Ledger const& ledger) {
    return answer_of(ledger.find(*id), [&](std::optional<LedgerEntry> const& entry) {
      if (!entry) return error_answer(404, "There is no job " + std::to_string(*id) + ".");
      if (steps.size() == 3)
        return answer_of(job_page_json(ledger, *entry, shop_.now()->intakes), [&](Json json) {
          json["handed_in"] = note_json(note_of(notes_beside(kept_), std::filesystem::path(entry->name).filename().native(), entry->digest));
          json["order"] = json["handed_in"].is_object() ? json["handed_in"]["order"] : Json("");
          auto printed = *entry;
          json["may_print"] = print_laid(printed, shop_.now()->configuration).has_value();
          return json_answer(json);
        });
      if (steps.size() == 4 && steps[3] == "look") return look_of_job(request, ledger, *entry);
      if (steps.size() == 4 && steps[3] == "picture") return picture_of_job(ledger, *entry);
      if (steps.size() == 5 && steps[3] == "files") return download(ledger, *entry, steps[4]);
      return error_answer(404, "There is nothing of that name.");
    });
  });
}

WebAnswer Desk::decided(WebRequest const& request, long long id, std::string const& what, Visitor const& visitor) {
  auto const said = said_in(request);
  if (!said) return error_of(said.error());
  auto ledger = Ledger::open(ledger_, false);
  if (!ledger) return error_of(ledger.error());
  auto answer = changed(*ledger, id, *said, what, visitor.name.empty() ? shop_.now()->who : visitor.name);
  if (answer.status != 200) return answer;
  ++decisions_;
  runner_.look(what == "print" || what == "now");
  return answer;
}

void Desk::add_orders(Json& jobs) const { layright::add_orders(notes_beside(kept_), jobs); }

WebAnswer Desk::laid_now(WebRequest const& request, Visitor const& visitor) {
  auto const said = said_in(request);
  if (!said) return error_of(said.error());
  auto const shop = shop_.now();
  auto const intake = said->value("intake", ""), target = said->value("target", "");
  std::vector<std::string> intakes;
  for (auto const& each : shop->intakes)
    if (intake.empty() || each.name == intake) intakes.push_back(each.name);
  if (intakes.empty()) return error_answer(422, "There is no watched folder " + shown_name(intake) + ".");
  if (!target.empty() && !shop->configuration.targets.contains(target)) return error_answer(422, "There is no target " + shown_name(target) + ".");
  auto ledger = Ledger::open(ledger_, false);
  if (!ledger) return error_of(ledger.error());
  auto const marked = gang_all_now(*ledger, intakes, target, visitor.name.empty() ? shop->who : visitor.name);
  if (!marked) return error_of(marked.error());
  if (marked->marked == 0) return error_answer(409, "Nothing waits there any more: somebody was faster.");
  ++decisions_;
  runner_.look(true);
  return json_answer({{"jobs", marked->marked}, {"noted", true}});
}

WebAnswer Desk::changed(Ledger& ledger, long long id, Json const& said, std::string const& what, std::string const& who) {
  auto const text = [&](char const* name) { return said.value(name, std::string()); };
  if (what == "spoiled") {
    auto const sheets = said.value("sheets", 1);
    if (text("why").empty()) return error_answer(422, "Say what went wrong.");
    if (sheets < 1 || sheets > kMostSpoiled) return error_answer(422, "That is no number of sheets.");
    auto const counted = count_spoiled(ledger, id, who, sheets, text("why"));
    return counted ? json_answer({{"job", id}, {"noted", true}}) : error_of(counted.error());
  }
  if (!said.contains("history")) return error_answer(400, "history is missing: how many lines of the job's history were seen.");
  Decide act;
  if (what == "release")
    act = [&](LedgerEntry& entry, Story const& story) { return release_as_said(entry, story, said, shop_.now()->configuration); };
  if (what == "print") act = [&](LedgerEntry& entry, Story const&) { return print_laid(entry, shop_.now()->configuration); };
  if (what == "again") act = [](LedgerEntry& entry, Story const& story) { return lay_again(entry, story); };
  if (what == "anew") act = [](LedgerEntry& entry, Story const& story) { return lay_again(entry, story, {0, 0, true}); };
  if (what == "now") act = [](LedgerEntry& entry, Story const&) { return gang_now(entry); };
  if (what == "discard") {
    if (text("why").empty()) return error_answer(422, "Say why, for those who read it later.");
    act = [&](LedgerEntry& entry, Story const&) { return discard(entry, text("why")); };
  }
  if (!act) return error_answer(404, "There is nothing of that name.");
  auto const decided = decide(ledger, id, who, [&](LedgerEntry& entry, Story const& story) -> Result<LedgerEvent> {
    if (auto const same = is_as_seen(story, said.value("history", -1LL)); !same) return same.error();
    return act(entry, story);
  });
  return decided ? json_answer({{"job", id}, {"noted", true}}) : error_of(decided.error());
}

WebAnswer Desk::download(Ledger const& ledger, LedgerEntry const& entry, std::string const& kind) {
  if (kind != "laid" && kind != "sheet" && kind != "original") return error_answer(404, "There is nothing of that name.");
  auto const path = file_of_job(ledger, entry, kind);
  if (!path) return error_of(path.error());
  return file_answer(*path, kind == "original" ? "application/octet-stream" : "application/pdf");
}

WebAnswer Desk::settings() const {
  auto const shop = shop_.now();
  auto json = configuration_json(shop->configuration);
  json["intakes"] = Json::array();
  for (auto const& intake : shop->intakes)
    json["intakes"].push_back({{"name", intake.name},
                               {"target", intake.target},
                               {"in", intake.in.string()},
                               {"ready", intake.ready.string()},
                               {"held", intake.held.string()},
                               {"originals", intake.originals.string()},
                               {"settings", intake.settings}});
  json["configuration"] = shop->configuration.path.string();
  json["trouble"] = shown_name(shop_.trouble());
  json["ledger"] = ledger_.string();
  json["layright"] = program_version();
  return json_answer(json);
}

}  // namespace layright
