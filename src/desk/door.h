// The customers' door: a page where a file can be handed in. It lists nothing, tells nothing, and has no other page.
#pragma once
#include <atomic>
#include <chrono>
#include <deque>
#include <filesystem>
#include <functional>
#include <map>
#include <mutex>
#include <string>
#include <vector>

#include "desk/exchange.h"
#include "sheet/configuration.h"

namespace layright {

/// The watched folder that customers' files come into: the only one, or the one that says customers-door = true. Error (usage) where that is none, or
/// are several.
Result<std::filesystem::path> door_folder(std::vector<Intake> const& intakes);

struct DoorLimits {
  long long file_bytes = 128LL << 20, day_bytes = 4LL << 30, day_bytes_of_address = 1LL << 30;
  int files_an_hour = 30;  // of one address
  int at_once = 8, at_once_of_address = 4;
};

class CustomerDoor {
 public:
  using Clock = std::chrono::steady_clock;
  using Now = std::function<Clock::time_point()>;
  /// `drop`: the watched folder, asked for each file; `notes`: where it is written who sent what.
  CustomerDoor(std::function<std::filesystem::path()> drop, std::filesystem::path notes, DoorLimits limits = {}, Now now = Clock::now);
  /// What a Host header may say; without this call nobody is answered.
  void answer_to(std::vector<std::string> hosts, bool tls) {
    hosts_ = std::move(hosts);
    tls_ = tls;
  }
  /// May be called from many threads at a time.
  WebAnswer answer(WebRequest const& request);
  long long files() const { return files_; }
  long long refused() const { return refused_; }

 private:
  WebAnswer admitted(WebRequest const& request);
  WebAnswer taken(WebRequest const& request);
  bool may_send(std::string const& address);
  bool add_bytes(std::string const& address, long long bytes);
  /// One of the files that come in at the moment, as long as it lives.
  class Coming;

  std::function<std::filesystem::path()> const drop_;
  std::filesystem::path const notes_;
  DoorLimits const limits_;
  Now const now_;
  std::vector<std::string> hosts_;
  bool tls_ = false;
  std::mutex mutex_;
  std::map<std::string, std::deque<Clock::time_point>> sent_;  // by address
  struct Came {
    Clock::time_point at;
    std::string address;
    long long bytes;
  };
  std::deque<Came> came_;  // in the last day
  std::map<std::string, int> coming_from_;
  std::atomic<long long> files_ = 0, refused_ = 0;
  int coming_ = 0;
};

}  // namespace layright
