#include "desk/press_watch.h"

#include <algorithm>
#include <atomic>
#include <nlohmann/json.hpp>
#include <utility>

#include "report/report.h"

namespace layright {
namespace {

constexpr auto kKept = std::chrono::seconds(30);
constexpr std::size_t kAtOnce = 8;  // presses that do not answer cost little but their time

/// The list of that name in what a child printed; null where there is none.
Json list_in(std::string const& printed, char const* name) {
  auto told = Json::parse(printed, nullptr, false);
  return told.is_object() && told.contains(name) && told[name].is_array() ? std::move(told[name]) : Json();
}

/// Until a press has answered.
Json not_asked_yet(Press const& press) {
  bool const has_address = !press.ipp.empty() || !press.queue.empty();
  return {{"press", press.name},
          {"address", has_address ? shown_name(press.ipp.empty() ? press.queue : press.ipp) : ""},
          {"model", ""},
          {"state", ""},
          {"troubles", Json::array()},
          {"targets", Json::array()}};
}

}  // namespace

PressWatch::PressWatch(PressHands hands) : hands_(std::move(hands)), thread_([this] { work(); }) {}

PressWatch::~PressWatch() {
  {
    std::lock_guard const lock(mutex_);
    end_ = true;
  }
  changed_.notify_all();
  thread_.join();
}

Json PressWatch::answers(Configuration const& configuration, std::string const& target) {
  std::lock_guard const lock(mutex_);
  auto const now = std::chrono::steady_clock::now();
  Wanted wanted{{}, target};
  for (auto const& [name, press] : configuration.presses)
    if (!press.ipp.empty() || !press.queue.empty()) wanted.presses.push_back(name);
  if (!asking_ && (!ever_ || now - asked_ >= kKept)) {
    wanted_ = wanted;
    ever_ = asking_ = true;
    changed_.notify_all();
  }
  Json json{{"configured", Json::array()}, {"presses", Json::array()}, {"asking", asking_}, {"trouble", ""}};
  for (auto const& [name, press] : configuration.presses) {
    auto const known = presses_.find(name);
    bool const asked = std::ranges::find(wanted.presses, name) != wanted.presses.end();
    json["configured"].push_back(asked && known != presses_.end() ? Json::parse(known->second) : not_asked_yet(press));
  }
  if (!queues_.empty()) json["presses"] = Json::parse(queues_);
  else if (!asking_) json["trouble"] = "The print queues of this machine cannot be asked.";
  return json;
}

void PressWatch::work() {
  std::unique_lock lock(mutex_);
  while (true) {
    changed_.wait(lock, [this] { return asking_ || end_; });
    if (end_) return;
    auto const wanted = wanted_;
    lock.unlock();
    ask(wanted);
    lock.lock();
    asked_ = std::chrono::steady_clock::now();
    asking_ = false;
  }
}

void PressWatch::ask(Wanted const& wanted) {
  auto const stop = [this] {
    std::lock_guard const lock(mutex_);
    return end_;
  };
  std::atomic<std::size_t> next = 0;  // the queues come last
  auto const some = [&] {
    for (auto i = next++; i <= wanted.presses.size() && !stop(); i = next++) {
      bool const queues = i == wanted.presses.size();
      Json told;
      if (queues && hands_.queues && !wanted.target.empty()) told = list_in(hands_.queues(wanted.target, stop), "presses");
      if (!queues && hands_.press) told = list_in(hands_.press(wanted.presses[i], stop), "configured");
      std::lock_guard const lock(mutex_);
      if (queues) queues_ = told.is_array() ? told.dump() : "";
      else if (told.is_array() && told.size() == 1) presses_[wanted.presses[i]] = told[0].dump();
      else presses_.erase(wanted.presses[i]);
    }
  };
  std::vector<std::thread> threads;
  for (std::size_t i = 0; i < std::min(kAtOnce, wanted.presses.size()); ++i) threads.emplace_back(some);
  some();
  for (auto& thread : threads) thread.join();
}

}  // namespace layright
