#include "command/desk_door.h"

#include <cstdio>
#include <utility>

#include "desk/guard.h"

namespace layright {

DoorThread::DoorThread(CustomerDoor& door, ServerOptions options, std::vector<std::string> names)
    : door_(door), options_(std::move(options)), names_(std::move(names)) {}

void DoorThread::begin(std::function<void()> stop) {
  options_.limits.most_at_once = 32;     // the desk's own visitors come first
  options_.limits.most_of_address = 12;  // more than a browser opens
  options_.listening = [this](int port, std::function<void()> close) {
    auto at = options_.address;
    if (!at.unix_socket) at.port = port;
    bool const tls = !options_.certificate.empty();
    door_.answer_to(own_hosts(at, at.port, names_), tls);
    std::printf("customers' door: %s\n", shown_address(at, tls).c_str());
    std::fflush(stdout);
    std::unique_lock lock(mutex_);
    close_ = std::move(close);
    bool const ended = ended_;
    auto const now = close_;
    lock.unlock();
    if (ended) now();
  };
  thread_ = std::thread([this, stop = std::move(stop)] {
    auto served = serve(options_, [this](WebRequest const& request) { return door_.answer(request); });
    bool const failed = !served.has_value();
    {
      std::lock_guard const lock(mutex_);
      outcome_ = std::move(served);
    }
    if (failed) stop();
  });
}

Outcome DoorThread::end() {
  std::function<void()> close;
  {
    std::lock_guard const lock(mutex_);
    ended_ = true;
    close = close_;
  }
  if (close) close();
  if (thread_.joinable()) thread_.join();
  return outcome_;
}

}  // namespace layright
