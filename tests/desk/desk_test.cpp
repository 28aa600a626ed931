// The desk's answers as plain values: who is let in, what may be decided, and that nothing of a file's name becomes more than text.
#include "desk/desk.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>
#include <thread>
#include <tuple>

#include "desk/decision_words.h"
#include "desk/guard.h"
#include "desk/job_steps.h"
#include "desk/pages.h"
#include "desk/server.h"
#include "support/program.h"

namespace layright {
namespace {

constexpr char const* kHost = "127.0.0.1:8642";

WebRequest asks(std::string const& address) {
  auto const mark = address.find("?page=");
  WebRequest request{"GET", address.substr(0, mark), {}, {{"host", kHost}}, {}};
  if (mark != std::string::npos) request.query["page"] = address.substr(mark + 6);
  return request;
}

WebRequest tells_with(std::string const& token, std::string const& path, std::string const& body) {
  auto const read = [body](std::function<bool(std::string_view)> const& take) { return take(body); };
  return {"POST",
          path,
          {},
          {{"host", kHost}, {"origin", std::string("http://") + kHost}, {"content-type", "application/json"}, {"x-layright-token", token}},
          read};
}

constexpr char const* kGuide = R"([{"check":"ink.guide","level":"hold","message":"a frame <b>","page":1}])";

/// A shop with one held job, and hands that only note what they are asked.
class TriedDesk {
 public:
  explicit TriedDesk(std::string const& findings = kGuide, std::string const& name = "fox/<i>order.pdf") {
    DeskShop shop;
    shop.configuration.targets["film"] = {};
    Intake intake;
    intake.name = "counter";
    shop.intakes = {intake};
    shop.ledger = folder / "l.db";
    auto ledger = Ledger::open(shop.ledger, true);
    REQUIRE(ledger);
    ledger_.emplace(std::move(*ledger));
    LedgerEntry e;
    e.intake = "counter";
    e.name = name;
    e.digest = std::string(64, 'a');
    e.arrived = e.changed = 1'764'000'000'000;
    e.state = LedgerState::held;
    e.place = (folder / "held.pdf").native();
    e.target = "film";
    e.findings = findings;
    std::ofstream(e.place) << "bytes";
    REQUIRE(ledger_->change([&](LedgerChange& change) {
      change.add(e);
      change.report({e.id, e.arrived, "layright", "held", "a frame"});
    }));
    DeskHands hands;
    hands.check = [this](CheckOrder const& order) -> Result<std::string> {
      ++checks;
      std::ofstream(order.picture) << "PNG";
      return std::string(
          R"({"files":[{"page_count":2,"verdict":"hold","pages":[{"findings":[{"check":"ink.guide","level":"hold","message":"m"}]}],"findings":[]}]})");
    };
    hands.do_decided = [] {};
    desk.emplace(shop, hands);
    desk->answer_to({kHost});
  }
  Json json(std::string const& path, int status = 200) {
    auto const answer = desk->answer(asks(path));
    CHECK(answer.status == status);
    return Json::parse(answer.text);
  }
  /// A change, as a page of the desk itself asks for it.
  WebRequest tells(std::string const& path, std::string const& body) {
    return tells_with(Json::parse(desk->answer(asks("/api/me")).text)["token"], path, body);
  }
  int status(WebRequest const& request) { return desk->answer(request).status; }
  LedgerEntry entry() { return **ledger_->find(1); }
  std::vector<LedgerEvent> events() { return *ledger_->events_of(1); }

  test::Folder folder;
  std::optional<Desk> desk;
  int checks = 0;

 private:
  std::optional<Ledger> ledger_;
};

}  // namespace

TEST_CASE("the desk listens where it is told, and knows who reaches it there", "[desk]") {
  for (char const* good : {"127.0.0.1:8642", "localhost:0", "[::1]:80", "127.3.2.1:1", "unix:/tmp/desk.sock"}) CHECK(parse_listen_address(good));
  for (char const* bad : {"", "8642", "127.0.0.1", "127.0.0.1:", "127.0.0.1:65536", "127.0.0.1:x", "127.0.0:1", "127.0.0.256:1",
                          "127.0.0.1.example:1", "example.org:80", "unix:", ":80"})
    CHECK_FALSE(parse_listen_address(bad));
  for (char const* others : {"0.0.0.0:8642", "[::]:8642", "192.0.2.1:8642", "[2001:db8::1]:1"}) {
    REQUIRE(parse_listen_address(others));
    CHECK_FALSE(is_of_this_machine(*parse_listen_address(others)));
  }
  CHECK(is_any_address(*parse_listen_address("[::]:1")));
  CHECK_FALSE(is_any_address(*parse_listen_address("[::1]:1")));
  CHECK(own_hosts({"192.0.2.1", 0, false}, 443, {"desk.example"}) ==
        std::vector<std::string>{"desk.example:443", "desk.example", "192.0.2.1:443", "192.0.2.1"});
  CHECK(shown_address({"::1", 8642, false}) == "http://[::1]:8642/");
  CHECK(own_hosts({"127.0.0.1", 0, false}, 1234) == std::vector<std::string>{"localhost:1234", "127.0.0.1:1234", "[::1]:1234"});
}

TEST_CASE("a request of another name or another site is refused", "[desk]") {
  // Names turned to this machine (DNS rebinding) come with a Host of their own: RFC 9110, 7.2. Origin: RFC 6454. Sec-Fetch-Site: W3C Fetch Metadata.
  std::vector<std::string> const hosts{kHost};
  struct Row {
    char const *method, *path, *host, *origin, *site;
    int status;
  };
  for (auto const& [method, path, host, origin, site, status] :
       std::vector<Row>{{"GET", "/", kHost, "", "", 0},
                        {"GET", "/api/today", kHost, "", "same-origin", 0},
                        {"GET", "/api/today", kHost, "", "cross-site", 403},
                        {"GET", "/api/today", kHost, "", "same-site", 403},
                        {"GET", "/", "evil.example:8642", "", "", 421},
                        {"GET", "/", "127.0.0.1", "", "", 421},
                        {"GET", "/", "127.0.0.1:8642, evil.example", "", "", 421},
                        {"GET", "/", "", "", "", 421},
                        {"PUT", "/", kHost, "http://127.0.0.1:8642", "", 405},
                        {"POST", "/api/jobs/1/release", kHost, "http://127.0.0.1:8642", "same-origin", 0},
                        {"POST", "/api/jobs/1/release", kHost, "", "", 403},
                        {"POST", "/api/jobs/1/release", kHost, "null", "", 403},
                        {"POST", "/api/jobs/1/release", kHost, "http://127.0.0.1:8643", "", 403},
                        {"POST", "/api/jobs/1/release", kHost, "https://127.0.0.1:8642", "", 403},
                        {"POST", "/api/jobs/1/release", kHost, "http://127.0.0.1:8642", "cross-site", 403}}) {
    CAPTURE(method, path, host, origin, site);
    WebRequest request{method, path, {}, {{"host", host}, {"origin", origin}, {"sec-fetch-site", site}}, {}};
    auto const refused = refusal(request, hosts);
    CHECK((refused ? refused->status : 0) == status);
  }
}

TEST_CASE("each answer forbids scripts of others, also a refusal", "[desk]") {
  TriedDesk tried;
  WebRequest elsewhere = asks("/");
  elsewhere.headers["host"] = "evil.example";
  for (auto const& request : {asks("/"), asks("/api/jobs/1"), asks("/nothing"), elsewhere}) {
    auto const answer = tried.desk->answer(request);
    auto const said = [&](std::string const& name) {
      for (auto const& [known, value] : answer.headers)
        if (known == name) return value;
      return std::string();
    };
    CHECK(said("Content-Security-Policy").find("default-src 'none'; script-src 'self'") == 0);
    CHECK(said("Content-Security-Policy").find("unsafe") == std::string::npos);
    CHECK(said("Referrer-Policy") == "no-referrer");
    CHECK(said("X-Content-Type-Options") == "nosniff");
  }
}

TEST_CASE("pages bring no script or style inside them", "[desk]") {
  int pages = 0;
  for (auto const& page : embedded_pages()) {
    CAPTURE(page.name);
    CHECK(page.text.size() < 150'000);
    if (!page.name.ends_with(".html")) continue;
    ++pages;
    for (char const* no : {"<style", " style=", " onclick", "javascript:", "<script>"}) CHECK(page.text.find(no) == std::string_view::npos);
  }
  CHECK(pages == 7);
  for (auto const& page : embedded_pages())
    if (page.name.ends_with(".js"))
      for (char const* no : {"innerHTML", "outerHTML", "insertAdjacentHTML", "document.write", "eval("})
        CHECK(page.text.find(no) == std::string_view::npos);
}

TEST_CASE("the paths of the desk, and no others", "[desk]") {
  TriedDesk tried;
  for (char const* there : {"/", "/job/1", "/film", "/settings", "/check", "/pages/style.css", "/api/today", "/api/film", "/api/settings",
                            "/api/jobs/1", "/healthz", "/metrics"})
    CHECK(tried.status(asks(there)) == 200);
  for (char const* none :
       {"/x", "/job/x", "/pages/../desk.cpp", "/pages/%2e%2e", "/pages/", "/api", "/api/jobs/2", "/api/jobs/-1", "/api/jobs/1/files/../../etc",
        "/api/jobs/99999999999999999999", "/api/jobs/1/files/x", "/api/proofs/../l.db", "/api/proofs/x.png", "//", "/job/1/2"}) {
    CAPTURE(none);
    CHECK(tried.status(asks(none)) == 404);
  }
  CHECK(tried.status(asks("/api/jobs/1/files/original")) == 200);
  CHECK(tried.status(asks("/api/jobs/1/files/laid")) == 404);
}

TEST_CASE("the buttons of a hold are what release takes for it", "[desk]") {
  struct Row {
    char const* findings;
    std::size_t questions;
    bool can;
  };
  for (auto const& [findings, count, can] : std::vector<Row>{
           {"[]", 1, true},
           {kGuide, 1, true},
           {R"([{"check":"reading.unknown","level":"hold","message":"m","page":1}])", 1, true},
           {R"([{"check":"ink.size","level":"hold","message":"m","page":1}])", 1, true},
           {R"([{"check":"picture.density","level":"hold","message":"m","page":1,"measured":{"width_px":900}}])", 1, true},
           {R"([{"check":"ink.size","level":"hold","message":"m","page":1},{"check":"ink.guide","level":"hold","message":"m","page":1}])", 2, true},
           {R"([{"check":"reading.mixed","level":"hold","message":"m","page":1},{"check":"ink.cut","level":"hold","message":"m","page":1}])", 2,
            true},
           {R"([{"check":"file.password","level":"hold","message":"m"}])", 0, false}}) {
    CAPTURE(findings);
    TriedDesk tried(findings);
    auto const entry = tried.entry();
    auto const questions = questions_json(entry);
    CHECK(questions.is_null() == !can);
    if (!can) continue;
    REQUIRE(questions.size() == count);
    Configuration configuration;
    // Each way through the questions is taken.
    std::size_t ways = 1;
    for (auto const& q : questions) ways *= q["choices"].size();
    for (std::size_t way = 0; way < ways; ++way) {
      auto left = way;
      Json said{{"accept", Json::array()}};
      for (auto const& q : questions) {
        auto const& choice = q["choices"][left % q["choices"].size()];
        left /= q["choices"].size();
        for (auto const& [name, value] : choice["set"].items())
          if (name == "accept") said["accept"].push_back(value[0]);
          else said[name] = value;
        if (choice.contains("needs"))
          said[choice["needs"].get<std::string>()] = choice["value"].get<std::string>().empty() ? Json("4in") : choice["value"];
      }
      auto released = entry;
      auto const event = release_as_said(released, {}, said, configuration);
      INFO(said.dump() << (event ? "" : event.error().message));
      CHECK(event);
    }
  }
}

TEST_CASE("a decision is written with who decided; who comes second hears so", "[desk]") {
  TriedDesk tried;
  CHECK(tried.json("/api/jobs/1")["history"] == 1);
  CHECK(tried.status(tried.tells("/api/jobs/1/release", R"({"history":1,"accept":["ink.guide"]})")) == 200);
  auto const events = tried.events();
  REQUIRE(events.size() == 2);
  CHECK(events[1].who == "desk");
  CHECK(events[1].what == "released");
  CHECK(tried.json("/api/jobs/1")["events"][1]["words"] == "released: Guide is part of the art (ink.guide)");
  auto const second = tried.desk->answer(tried.tells("/api/jobs/1/discard", R"({"history":1,"why":"no"})"));
  CHECK(second.status == 409);
  CHECK(second.text.find("Somebody was faster") != std::string::npos);
  CHECK(second.text.find("desk: released") != std::string::npos);
  CHECK(second.text.find("..") == std::string::npos);
  CHECK(tried.events().size() == 2);
}

TEST_CASE("of two who decide at the same moment one hears so", "[desk]") {
  TriedDesk tried;
  std::vector<int> statuses(8);
  std::vector<std::thread> people;
  for (auto& status : statuses)
    people.emplace_back([&] { status = tried.desk->answer(tried.tells("/api/jobs/1/release", R"({"history":1,"accept":["ink.guide"]})")).status; });
  for (auto& each : people) each.join();
  CHECK(std::count(statuses.begin(), statuses.end(), 200) == 1);
  CHECK(std::count(statuses.begin(), statuses.end(), 409) == 7);
  CHECK(tried.events().size() == 2);
}

TEST_CASE("what is no decision changes nothing", "[desk]") {
  TriedDesk tried;
  struct Row {
    char const *path, *body;
    int status;
  };
  std::string const long_text = R"({"history":1,"why":")" + std::string(600, 'x') + "\"}", huge = std::string(20 << 10, ' ') + "{}";
  for (auto const& [path, body, status] : std::vector<Row>{{"release", "", 400},
                                                           {"release", "[]", 400},
                                                           {"release", "{", 400},
                                                           {"release", "{}", 400},
                                                           {"release", R"({"history":"1"})", 400},
                                                           {"release", R"({"history":1,"accept":"ink.guide"})", 400},
                                                           {"release", R"({"history":1,"accept":["ink.cut"]})", 422},
                                                           {"release", R"({"history":1,"scale":"-3%"})", 422},
                                                           {"release", R"({"history":1,"scale":"shrink","width":"4in"})", 422},
                                                           {"release", R"({"history":1,"width":"0in"})", 422},
                                                           {"release", R"({"history":1,"incoming":"up"})", 422},
                                                           {"release", R"({"history":1,"target":"none"})", 422},
                                                           {"release", R"({"history":0})", 409},
                                                           {"discard", R"({"history":1})", 422},
                                                           {"discard", long_text.c_str(), 400},
                                                           {"discard", huge.c_str(), 400},
                                                           {"again", R"({"history":1})", 422},
                                                           {"spoiled", R"({"why":"jam"})", 404},
                                                           {"spoiled", R"({"why":"jam","sheets":0})", 422},
                                                           {"burn", R"({"history":1})", 404}}) {
    CAPTURE(path, std::string(body).substr(0, 80));
    CHECK(tried.status(tried.tells(std::string("/api/jobs/1/") + path, body)) == status);
  }
  CHECK(tried.status(tried.tells("/api/jobs/2/release", R"({"history":1})")) == 404);
  CHECK(tried.events().size() == 1);
  CHECK(tried.entry().decision.empty());
}

TEST_CASE("a page is drawn once for all who look at it", "[desk]") {
  TriedDesk tried;
  auto const look = tried.json("/api/jobs/1/look");
  CHECK(look["page_count"] == 2);
  CHECK(look["findings"][0]["number"] == 1);
  CHECK(tried.json("/api/jobs/1/look?page=1")["picture"] == look["picture"]);
  CHECK(tried.checks == 1);
  auto const picture = tried.desk->answer(asks(look["picture"].get<std::string>()));
  CHECK(picture.status == 200);
  CHECK(picture.file_bytes == 3);
}

TEST_CASE("pictures beyond the limit are given up, the oldest first", "[desk]") {
  test::Folder folder;
  ProofCache cache(folder.path(), 3 * 5100, 2);
  auto const draw = [](std::filesystem::path const& path) -> Result<std::string> {
    std::ofstream(path) << std::string(1000, 'x');
    return std::string("{}");
  };
  for (char const* key : {"a", "b", "c"}) CHECK(cache.look(key, draw));
  CHECK(cache.kept("a"));  // asked for, so the last to go
  CHECK(cache.look("d", draw));
  CHECK(cache.kept("a"));
  CHECK_FALSE(cache.kept("b"));
  CHECK_FALSE(std::filesystem::exists(folder / "b.png"));
  CHECK(cache.bytes() <= 3 * 5100);
  CHECK_FALSE(cache.look("e", [](auto const&) -> Result<std::string> { return Error{ErrorKind::internal, "no"}; }));
  CHECK_FALSE(cache.kept("e"));
}

TEST_CASE("a name is taken away as bytes that no header can be made of", "[desk]") {
  CHECK(disposition("a\r\nSet-Cookie: x.pdf") == "attachment; filename*=UTF-8''a%0D%0ASet-Cookie%3A%20x.pdf");
  CHECK(disposition("\"f\xC3\xBC\xFF.pdf") == "attachment; filename*=UTF-8''%22f%C3%BC%FF.pdf");
}

TEST_CASE("figures are in the OpenMetrics text form", "[desk]") {
  TriedDesk tried;
  auto const answer = tried.desk->answer(asks("/metrics"));
  CHECK(answer.type == "application/openmetrics-text; version=1.0.0; charset=utf-8");
  CHECK(answer.text.ends_with("# EOF\n"));
  CHECK(answer.text.find("\nlayright_jobs{state=\"held\"} 1\n") != std::string::npos);
  CHECK(answer.text.find("# TYPE layright_desk_requests counter\n") != std::string::npos);
}

TEST_CASE("a ready job that was not printed goes to a press that can be reached", "[desk]") {
  Configuration configuration;
  configuration.targets["film"].press.queue = "bench";
  configuration.targets["paper"] = {};
  LedgerEntry e;
  e.id = 1;
  e.state = LedgerState::ready;
  e.target = "film";
  for (auto const& [send, target, state, may] :
       std::vector<std::tuple<char const*, char const*, LedgerState, bool>>{{"", "film", LedgerState::ready, true},
                                                                            {"refused", "film", LedgerState::ready, true},
                                                                            {"sent", "film", LedgerState::ready, false},
                                                                            {"wanted", "film", LedgerState::ready, false},
                                                                            {"sending", "film", LedgerState::ready, false},
                                                                            {"film missing", "film", LedgerState::ready, false},
                                                                            {"", "paper", LedgerState::ready, false},
                                                                            {"", "none", LedgerState::ready, false},
                                                                            {"", "film", LedgerState::held, false}}) {
    CAPTURE(send, target);
    auto tried = e;
    tried.send = send;
    tried.target = target;
    tried.state = state;
    CHECK(print_laid(tried, configuration).has_value() == may);
    CHECK(tried.send == (may ? "wanted" : send));
  }
}

TEST_CASE("users and notes lie beside the ledger's file, or beside the configuration that all machines read", "[desk]") {
  DeskShop shop;
  shop.configuration.path = "/share/shop/layright.toml";
  shop.ledger = "/share/shop/day.db";
  CHECK(shop.kept_beside() == "/share/shop/day.db");
  shop.ledger = "postgresql://layright@server/layright";
  CHECK(shop.kept_beside() == "/share/shop/layright.toml");
}

}  // namespace layright
