// A connection that comes to its end: whatever a visitor does, it may take so long, and send so much.
#pragma once
#include <httplib.h>

#include <chrono>
#include <string>

#include "desk/server.h"
#include "desk/server_module/tls.h"

namespace layright {

class TimedStream : public httplib::Stream {
 public:
  TimedStream(socket_t socket, ServerLimits const& limits);
  /// What follows is TLS; false where the visitor does not shake hands in time.
  bool begin_tls(SSL_CTX* context);
  /// Says that nothing more comes.
  void end_tls();
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
  ssize_t receive(char* into, std::size_t size);
  /// After a call of the library that ended with `result`: whether it may be called again, once what it waits for has come.
  bool may_go_on(int result, Clock::time_point until) const;
  socket_t socket_;
  TlsConnection tls_;
  ServerLimits const& limits_;
  Clock::time_point begun_ = Clock::now(), read_until_;
  long long bytes_left_;
  char buffer_[4096];  // the library asks byte by byte
  std::size_t at_ = 0, filled_ = 0;
};

}  // namespace layright
