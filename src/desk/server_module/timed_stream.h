// A connection that comes to its end: whatever a visitor does, it may take so long, and send so much.
#pragma once
#include <httplib.h>

#include <chrono>
#include <string>

#include "desk/server.h"

namespace layright {

class TimedStream : public httplib::Stream {
 public:
  TimedStream(socket_t socket, ServerLimits const& limits);
  /// A body follows: more time and bytes.
  void expect_body();

  bool is_readable() const override;
  bool is_writable() const override;  // false once the visitor has gone
  ssize_t read(char* into, std::size_t size) override;
  ssize_t write(char const* from, std::size_t size) override;
  void get_remote_ip_and_port(std::string& ip, int& port) const override;
  void get_local_ip_and_port(std::string& ip, int& port) const override;
  socket_t socket() const override { return socket_; }

 private:
  using Clock = std::chrono::steady_clock;
  bool wait_for(short event, Clock::time_point until) const;
  socket_t socket_;
  ServerLimits const& limits_;
  Clock::time_point begun_ = Clock::now(), read_until_;
  long long bytes_left_;
  char buffer_[4096];  // the library asks byte by byte
  std::size_t at_ = 0, filled_ = 0;
};

}  // namespace layright
