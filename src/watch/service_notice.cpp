#include "watch/service_notice.h"

#include <sys/socket.h>
#include <sys/un.h>
#include <unistd.h>

#include <cstddef>
#include <cstdlib>
#include <cstring>

#include "base/unique_fd.h"

namespace layright {

void notify_service_manager(std::string const& state) {
  char const* const where = std::getenv("NOTIFY_SOCKET");
  if (!where || (*where != '/' && *where != '@')) return;
  std::size_t const length = std::strlen(where);
  sockaddr_un address{};
  if (length >= sizeof address.sun_path) return;
  address.sun_family = AF_UNIX;
  std::memcpy(address.sun_path, where, length);
  if (*where == '@') address.sun_path[0] = '\0';
  UniqueFd const out(socket(AF_UNIX, SOCK_DGRAM | SOCK_CLOEXEC, 0));
  if (!out) return;
  auto const size = static_cast<socklen_t>(offsetof(sockaddr_un, sun_path) + length);
  sendto(out.get(), state.data(), state.size(), MSG_NOSIGNAL | MSG_DONTWAIT, reinterpret_cast<sockaddr const*>(&address), size);
}

std::chrono::milliseconds watchdog_interval() {
  char const* const every = std::getenv("WATCHDOG_USEC");
  char const* const process = std::getenv("WATCHDOG_PID");
  if (!every || (process && std::atoi(process) != getpid())) return std::chrono::milliseconds(0);
  return std::chrono::milliseconds(std::atoll(every) / 2000);
}

}  // namespace layright
