// Serves answers by HTTP, or HTTPS. The libraries that do it are in a module of its own: no other command loads them.
#pragma once
#include <functional>
#include <string>

#include "base/result.h"
#include "desk/exchange.h"

namespace layright {

/// Where the desk listens.
struct ListenAddress {
  std::string host = "127.0.0.1";  // an address of this machine's own, as it is bound; or, for a Unix socket, its path
  int port = 8642;                 // 0: any that is free
  bool unix_socket = false;
};
/// "127.0.0.1:8642", "localhost:0", "[::1]:8642", "192.0.2.7:443" or "unix:/run/desk.sock". Error (usage), which names `option`, for anything else.
Result<ListenAddress> parse_listen_address(std::string_view text, std::string const& option = "--listen");
/// Whether only this machine can reach it.
bool is_of_this_machine(ListenAddress const& address);
/// Whether it stands for each address that the machine has: 0.0.0.0 and [::].
bool is_any_address(ListenAddress const& address);
/// "http://127.0.0.1:8642/", with `tls` "https://…", or "unix:PATH".
std::string shown_address(ListenAddress const& address, bool tls = false);

/// What keeps one visitor from taking it away from all others.
struct ServerLimits {
  long long head_bytes = 64 << 10;   // of all that is sent before a body
  long long body_bytes = 1LL << 30;  // whoever answers sets closer ones
  int seconds_to_ask = 15;           // for a whole request without a large body
  int seconds_to_send = 300;         // for a body
  int seconds_in_all = 900;          // of one connection
  int seconds_to_take = 10;          // nothing was taken of the answer
  int most_at_once = 128;            // connections; more are told to come again
  int most_of_address = 96;          // connections of one address: whoever takes all that he can leaves some to others
};

struct ServerOptions {
  ListenAddress address;
  ServerLimits limits;
  std::string certificate, key;  // PEM files, the certificate with its chain; empty: no TLS
  /// Called once it listens, with the port that it got and what ends it, which may be called from any thread.
  std::function<void(int port, std::function<void()> stop)> listening;
};

/// Until it is stopped. `answer` is called from many threads at a time. Errors: cannot_create (the address is taken), internal (no module).
Outcome serve(ServerOptions const& options, Answerer const& answer);

}  // namespace layright
