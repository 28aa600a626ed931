// What a service manager wants to hear: the datagrams of sd_notify(3), in the few lines that they take.
#pragma once
#include <chrono>
#include <string>

namespace layright {

/// Sends "READY=1", "WATCHDOG=1", "STATUS=…" to the socket that NOTIFY_SOCKET names; nothing where there is none.
void notify_service_manager(std::string const& state);

/// How often WATCHDOG=1 is due: half of WATCHDOG_USEC where WATCHDOG_PID is this process or unset; 0 where nobody waits for it.
std::chrono::milliseconds watchdog_interval();

}  // namespace layright
