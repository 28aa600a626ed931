// The digests of arrivals, taken so that a large file does not keep the watcher from its other work.
#pragma once
#include <deque>
#include <filesystem>
#include <memory>
#include <vector>

#include "watch/arrivals.h"

namespace layright {

class FileDigest;

struct DigestedArrival {
  Arrival arrival;
  Result<std::string> digest;  // error io: it cannot be read
};

class DigestQueue {
 public:
  /// `in`: the watched folder, for messages.
  explicit DigestQueue(std::filesystem::path in);
  ~DigestQueue();

  void add(Arrival arrival, SteadyTime now);
  /// Reads the small ones whole, and the next piece of the large one that came first. Gives those that are done, in their order.
  std::vector<DigestedArrival> go_on();

  std::size_t size() const { return waiting_.size(); }
  std::optional<SteadyTime> oldest() const;

 private:
  struct Waiting;
  std::filesystem::path in_;
  std::deque<std::unique_ptr<Waiting>> waiting_;
};

}  // namespace layright
