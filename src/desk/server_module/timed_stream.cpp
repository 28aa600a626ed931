#include "desk/server_module/timed_stream.h"

#include <poll.h>
#include <sys/socket.h>

#include <algorithm>
#include <cstring>

namespace layright {

using std::chrono::seconds;

TimedStream::TimedStream(socket_t socket, ServerLimits const& limits)
    : socket_(socket), limits_(limits), read_until_(begun_ + seconds(limits.seconds_to_ask)), bytes_left_(limits.head_bytes) {}

void TimedStream::expect_body() {
  read_until_ = Clock::now() + seconds(limits_.seconds_to_send);
  bytes_left_ = limits_.body_bytes;
}

bool TimedStream::wait_for(short event, Clock::time_point until) const {
  auto const left = std::chrono::duration_cast<std::chrono::milliseconds>(std::min(until, begun_ + seconds(limits_.seconds_in_all)) - Clock::now());
  if (left.count() <= 0) return false;
  pollfd waiting{socket_, event, 0};
  return ::poll(&waiting, 1, static_cast<int>(left.count())) > 0 && (waiting.revents & event);
}

bool TimedStream::is_readable() const { return at_ < filled_ || wait_for(POLLIN, read_until_); }

bool TimedStream::is_writable() const {
  pollfd now{socket_, POLLOUT | POLLRDHUP, 0};
  return ::poll(&now, 1, 0) >= 0 && !(now.revents & (POLLRDHUP | POLLHUP | POLLERR)) &&
         wait_for(POLLOUT, Clock::now() + seconds(limits_.seconds_to_take));
}

ssize_t TimedStream::read(char* into, std::size_t size) {
  if (at_ == filled_) {
    if (bytes_left_ <= 0 || !wait_for(POLLIN, read_until_)) return -1;
    auto const got = ::recv(socket_, buffer_, std::min<std::size_t>(sizeof buffer_, static_cast<std::size_t>(bytes_left_)), 0);
    if (got <= 0) return got;
    bytes_left_ -= got;
    at_ = 0;
    filled_ = static_cast<std::size_t>(got);
  }
  auto const count = std::min(size, filled_ - at_);
  std::memcpy(into, buffer_ + at_, count);
  at_ += count;
  return static_cast<ssize_t>(count);
}

ssize_t TimedStream::write(char const* from, std::size_t size) {
  if (!wait_for(POLLOUT, Clock::now() + seconds(limits_.seconds_to_take))) return -1;
  return ::send(socket_, from, size, MSG_NOSIGNAL | MSG_DONTWAIT);
}

void TimedStream::get_remote_ip_and_port(std::string& ip, int& port) const {
  ip.clear();  // of no use here: all are of this machine
  port = 0;
}
void TimedStream::get_local_ip_and_port(std::string& ip, int& port) const { get_remote_ip_and_port(ip, port); }

}  // namespace layright
