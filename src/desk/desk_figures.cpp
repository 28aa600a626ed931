// What the desk tells of itself and of the day as it goes: new arrivals to its pages, figures to whoever watches over it.
#include <array>
#include <chrono>
#include <nlohmann/json.hpp>
#include <optional>
#include <thread>

#include "desk/day_json.h"
#include "desk/desk.h"
#include "desk/guard.h"
#include "desk/job_steps.h"
#include "watch/ledger_lock.h"
#include "watch/wall_clock.h"

namespace layright {
namespace {

constexpr int kMostListeners = 64;
constexpr int kQuietTurns = 15;  // then a line is sent that says nothing: whoever has gone is noticed
constexpr int kMostTurns = 600;  // then the page asks anew
constexpr auto kTurn = std::chrono::seconds(1);

/// One page that waits for news (server-sent events: HTML Standard, 9.2).
class Listener {
 public:
  Listener(std::filesystem::path ledger, std::shared_ptr<std::atomic<int>> count) : path_(std::move(ledger)), count_(std::move(count)) { ++*count_; }
  ~Listener() { --*count_; }
  Listener(Listener const&) = delete;
  Listener& operator=(Listener const&) = delete;

  std::optional<std::string> next() {
    bool const first = turn_++ == 0;
    if (turn_ > kMostTurns) return std::nullopt;
    if (!first) std::this_thread::sleep_for(kTurn);
    if (!ledger_)
      if (auto opened = Ledger::open(path_, false)) ledger_.emplace(std::move(*opened));
    auto const version = ledger_ ? ledger_->version_of_data() : Result<long long>(0LL);
    if (!version) ledger_.reset();
    bool const watched = lock_holder(path_) > 0;
    bool const news = (version && version_ && *version != *version_) || watched != watched_;
    watched_ = watched;
    if (version) version_ = *version;
    if (first) return "retry: 3000\n\n";  // what comes from here on is news
    if (news) return "event: news\ndata: " + std::to_string(version_.value_or(0)) + "\n\n";
    return turn_ % kQuietTurns == 0 ? ":\n\n" : "";
  }

 private:
  std::filesystem::path path_;
  std::shared_ptr<std::atomic<int>> count_;
  std::optional<Ledger> ledger_;
  std::optional<long long> version_;
  bool watched_ = false;
  int turn_ = 0;
};

/// OpenMetrics 1.0: each family with its type and help before its values.
class MetricsText {
 public:
  void family(std::string const& name, std::string const& type, std::string const& help, std::string const& unit = {}) {
    text_ += "# TYPE " + name + " " + type + "\n";
    if (!unit.empty()) text_ += "# UNIT " + name + " " + unit + "\n";
    text_ += "# HELP " + name + " " + help + "\n";
  }
  void value(std::string const& name, std::string const& labels, long long value) { text_ += name + labels + " " + std::to_string(value) + "\n"; }
  std::string end() && { return std::move(text_) + "# EOF\n"; }

 private:
  std::string text_;
};

std::string label(std::string const& name, std::string const& value) {
  std::string text = "{" + name + "=\"";
  for (char const c : value) text += c == '\n' ? std::string("\\n") : c == '"' || c == '\\' ? std::string{'\\', c} : std::string(1, c);
  return text + "\"}";
}

}  // namespace

WebAnswer Desk::events() {
  if (*listeners_ >= kMostListeners) return error_answer(503, "Too many pages are open.");
  auto const listener = std::make_shared<Listener>(ledger_, listeners_);
  WebAnswer answer;
  answer.type = "text/event-stream";
  answer.stream = [listener] { return listener->next(); };
  return answer;
}

WebAnswer Desk::metrics() {
  MetricsText f;
  auto const ledger = Ledger::open(ledger_, false);
  f.family("layright_ledger_up", "gauge", "Whether the ledger answers.");
  f.value("layright_ledger_up", "", ledger ? 1 : 0);
  f.family("layright_watcher_up", "gauge", "Whether a watcher has the ledger.");
  f.value("layright_watcher_up", "", lock_holder(ledger_) > 0 ? 1 : 0);
  if (ledger) {
    f.family("layright_jobs", "gauge", "Jobs of the ledger by their state.");
    for (auto const state : {LedgerState::moving, LedgerState::taken, LedgerState::waiting, LedgerState::placing, LedgerState::ready,
                             LedgerState::held, LedgerState::discarded, LedgerState::skipped, LedgerState::missing}) {
      LedgerFilter filter;
      filter.state = state;
      if (auto const count = ledger->count(filter)) f.value("layright_jobs", label("state", std::string(word(state))), *count);
    }
    long long used = 0, planned = 0, spoiled = 0;
    if (auto const film = ledger->sheets())
      for (auto const& row : *film) {
        used += row.used;
        planned += row.planned;
        spoiled += row.spoiled;
      }
    f.family("layright_film_sheets", "gauge", "Sheets of film by what became of them.");
    f.value("layright_film_sheets", label("fate", "used"), used);
    f.value("layright_film_sheets", label("fate", "planned"), planned);
    f.value("layright_film_sheets", label("fate", "spoiled"), spoiled);
  }
  f.family("layright_desk_requests", "counter", "Requests since the desk began.");
  f.value("layright_desk_requests_total", "", requests_);
  f.family("layright_desk_refused", "counter", "Requests that came from elsewhere and were refused.");
  f.value("layright_desk_refused_total", "", refused_);
  f.family("layright_desk_decisions", "counter", "Decisions taken at the desk since it began.");
  f.value("layright_desk_decisions_total", "", decisions_);
  f.family("layright_desk_uploads", "counter", "Files that were dropped on a page since the desk began.");
  f.value("layright_desk_uploads_total", "", uploads_);
  f.family("layright_desk_sessions", "gauge", "Who is logged in.");
  f.value("layright_desk_sessions", "", sessions_.count());
  f.family("layright_desk_open_pages", "gauge", "Pages that wait for news.");
  f.value("layright_desk_open_pages", "", *listeners_);
  f.family("layright_desk_proof_bytes", "gauge", "Bytes of pictures that are kept.", "bytes");
  f.value("layright_desk_proof_bytes", "", proofs_.bytes());
  return {200, "application/openmetrics-text; version=1.0.0; charset=utf-8", std::move(f).end()};
}

}  // namespace layright
