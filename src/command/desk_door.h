// The customers' door, served beside the desk by the same process.
#pragma once
#include <functional>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include "desk/door.h"
#include "desk/server.h"

namespace layright {

class DoorThread {
 public:
  DoorThread(CustomerDoor& door, ServerOptions options, std::vector<std::string> names);
  ~DoorThread() { (void)end(); }
  DoorThread(DoorThread const&) = delete;
  DoorThread& operator=(DoorThread const&) = delete;
  /// Opens it, and prints its address. Where it cannot be opened, `stop` ends the desk.
  void begin(std::function<void()> stop);
  /// How it went. Errors: those of serve().
  Outcome end();

 private:
  CustomerDoor& door_;
  ServerOptions options_;
  std::vector<std::string> const names_;
  std::mutex mutex_;
  std::function<void()> close_;
  bool ended_ = false;
  Outcome outcome_ = done();
  std::thread thread_;
};

}  // namespace layright
