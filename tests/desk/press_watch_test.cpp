// What presses say: nobody who looks waits for one that sleeps.
#include "desk/press_watch.h"

#include <catch2/catch.hpp>
#include <condition_variable>
#include <nlohmann/json.hpp>
#include <set>

namespace layright {
namespace {

/// Two presses with addresses, one of which answers when the test lets it, and one without.
struct TriedPresses {
  TriedPresses() {
    for (char const* name : {"awake", "asleep", "paper"}) configuration.presses[name].name = name;
    configuration.presses["awake"].ipp = configuration.presses["asleep"].ipp = "ipp://192.0.2.7/ipp/print";
  }
  std::string press(std::string const& name, PressHands::Stop const& stop) {
    std::unique_lock lock(mutex);
    asked.insert(name);
    changed.notify_all();
    while (name == "asleep" && !wakes && !stop()) changed.wait_for(lock, std::chrono::milliseconds(10));
    return R"({"configured":[{"press":")" + name + R"(","state":"idle"}]})";
  }
  void until_asked(std::size_t count) {
    std::unique_lock lock(mutex);
    changed.wait(lock, [&] { return asked.size() >= count; });
  }
  PressHands hands() {
    return {[this](std::string const& name, PressHands::Stop const& stop) { return press(name, stop); },
            [](std::string const&, PressHands::Stop const&) { return std::string(R"({"presses":[{"queue":"film"}]})"); }};
  }
  Configuration configuration;
  std::mutex mutex;
  std::condition_variable changed;
  std::set<std::string> asked;
  bool wakes = false;
};

std::string state_of(Json const& answers, std::string const& name) {
  for (auto const& each : answers["configured"])
    if (each["press"] == name) return each["state"];
  return "missing";
}

/// Looks until `is_so`.
template <class IsSo>
Json until(PressWatch& watch, Configuration const& configuration, IsSo const& is_so) {
  while (true) {
    auto answers = watch.answers(configuration, "target");
    if (is_so(answers)) return answers;
    std::this_thread::yield();
  }
}

}  // namespace

TEST_CASE("a press that sleeps holds nobody up, and the others are told", "[desk]") {
  TriedPresses t;
  {
    PressWatch watch(t.hands());
    auto const first = watch.answers(t.configuration, "target");
    CHECK(first["asking"] == true);
    CHECK(first["configured"].size() == 3);
    t.until_asked(2);
    auto const some = until(watch, t.configuration, [](Json const& a) { return state_of(a, "awake") == "idle" && !a["presses"].empty(); });
    CHECK(some["asking"] == true);
    CHECK(state_of(some, "asleep").empty());
    CHECK(some["presses"][0]["queue"] == "film");
    {
      std::lock_guard const lock(t.mutex);
      t.wakes = true;
    }
    auto const all = until(watch, t.configuration, [](Json const& a) { return a["asking"] == false; });
    CHECK(state_of(all, "asleep") == "idle");
    CHECK(state_of(all, "paper").empty());
    CHECK(t.asked == std::set<std::string>{"asleep", "awake"});          // the third has no address
    CHECK(watch.answers(t.configuration, "target")["asking"] == false);  // what is fresh is not asked again
  }
  t.wakes = false;
  t.asked.clear();
  PressWatch ends(t.hands());
  (void)ends.answers(t.configuration, "target");
  t.until_asked(2);  // and its end waits for nobody
}

}  // namespace layright
