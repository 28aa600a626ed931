// What the presses say of themselves: asked beside all else, so that no page waits for a press that sleeps.
#pragma once
#include <chrono>
#include <condition_variable>
#include <functional>
#include <map>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "report/page_json.h"
#include "sheet/configuration.h"

namespace layright {

/// Asks one press of the configuration, or the queues of this machine for a target: what `layright presses` prints as JSON, or nothing. Each may
/// take seconds. `stop`: whether the answer is wanted no more.
struct PressHands {
  using Stop = std::function<bool()>;
  std::function<std::string(std::string const& press, Stop const& stop)> press = {};
  std::function<std::string(std::string const& target, Stop const& stop)> queues = {};
};

class PressWatch {
 public:
  explicit PressWatch(PressHands hands);
  ~PressWatch();
  PressWatch(PressWatch const&) = delete;
  PressWatch& operator=(PressWatch const&) = delete;

  /// What is known now, at once: {"configured": […], "presses": […], "asking": whether newer answers are on their way, "trouble"}. What is older than
  /// half a minute is asked anew. `target`: for whose sheet the queues are looked at; empty: they are not.
  Json answers(Configuration const& configuration, std::string const& target);

 private:
  struct Wanted {
    std::vector<std::string> presses;
    std::string target;
  };
  void work();
  void ask(Wanted const& wanted);

  PressHands const hands_;
  std::mutex mutex_;
  std::condition_variable changed_;
  std::map<std::string, std::string> presses_;  // by name, as JSON
  std::string queues_;                          // a JSON list; empty: not known
  Wanted wanted_;
  std::chrono::steady_clock::time_point asked_{};
  bool ever_ = false, asking_ = false, end_ = false;
  std::thread thread_;
};

}  // namespace layright
