#include "desk/server_module/timed_stream.h"

#include <fcntl.h>
#include <netdb.h>
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

bool TimedStream::may_go_on(int result, Clock::time_point until) const {
  switch (SSL_get_error(tls_.get(), result)) {
    case SSL_ERROR_WANT_READ: return wait_for(POLLIN, until);
    case SSL_ERROR_WANT_WRITE: return wait_for(POLLOUT, until);
    default: return false;
  }
}

bool TimedStream::begin_tls(SSL_CTX* context) {
  ::fcntl(socket_, F_SETFL, ::fcntl(socket_, F_GETFL) | O_NONBLOCK);
  tls_.reset(SSL_new(context));
  if (!tls_ || SSL_set_fd(tls_.get(), socket_) != 1) return false;
  for (int result = 0; (result = SSL_accept(tls_.get())) != 1;)
    if (!may_go_on(result, read_until_)) return false;
  return true;
}

void TimedStream::end_tls() {
  if (tls_ && SSL_is_init_finished(tls_.get())) SSL_shutdown(tls_.get());
}

ssize_t TimedStream::receive(char* into, std::size_t size) {
  if (!tls_) return wait_for(POLLIN, read_until_) ? ::recv(socket_, into, size, 0) : -1;
  while (true) {
    int const got = SSL_read(tls_.get(), into, static_cast<int>(size));
    if (got > 0) return got;
    if (SSL_get_error(tls_.get(), got) == SSL_ERROR_ZERO_RETURN) return 0;
    if (!may_go_on(got, read_until_)) return -1;
  }
}

bool TimedStream::is_readable() const { return at_ < filled_ || (tls_ && SSL_pending(tls_.get()) > 0) || wait_for(POLLIN, read_until_); }

bool TimedStream::is_writable() const {
  pollfd now{socket_, POLLOUT | POLLRDHUP, 0};
  return ::poll(&now, 1, 0) >= 0 && !(now.revents & (POLLRDHUP | POLLHUP | POLLERR)) &&
         wait_for(POLLOUT, Clock::now() + seconds(limits_.seconds_to_take));
}

ssize_t TimedStream::read(char* into, std::size_t size) {
  if (at_ == filled_) {
    if (bytes_left_ <= 0) return -1;
    auto const got = receive(buffer_, std::min<std::size_t>(sizeof buffer_, static_cast<std::size_t>(bytes_left_)));
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
  auto const until = Clock::now() + seconds(limits_.seconds_to_take);
  while (tls_) {
    int const put = SSL_write(tls_.get(), from, static_cast<int>(std::min<std::size_t>(size, 1 << 20)));
    if (put > 0) return put;
    if (!may_go_on(put, until)) return -1;
  }
  if (!wait_for(POLLOUT, until)) return -1;
  return ::send(socket_, from, size, MSG_NOSIGNAL | MSG_DONTWAIT);
}

void TimedStream::get_remote_ip_and_port(std::string& ip, int& port) const {
  ip.clear();
  port = 0;
  sockaddr_storage peer{};
  socklen_t size = sizeof peer;
  auto* const address = reinterpret_cast<sockaddr*>(&peer);
  if (::getpeername(socket_, address, &size) != 0 || peer.ss_family == AF_UNIX) return;
  char host[64] = "";
  if (::getnameinfo(address, size, host, sizeof host, nullptr, 0, NI_NUMERICHOST) == 0) ip = host;
}
void TimedStream::get_local_ip_and_port(std::string& ip, int& port) const { get_remote_ip_and_port(ip, port); }

}  // namespace layright
