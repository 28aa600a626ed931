#include "desk/server.h"

#include <arpa/inet.h>

#include <algorithm>
#include <array>
#include <string_view>

#include "base/in_quotes.h"
#include "base/module.h"
#include "desk/server_module/entry.h"

namespace layright {
namespace {

constexpr std::string_view kUnixPrefix = "unix:";

/// 127.0.0.0/8 (RFC 1122, 3.2.1.3), ::1 (RFC 4291, 2.5.3) and the name that both have.
bool is_own(std::string_view host) {
  if (host == "localhost" || host == "::1") return true;
  if (!host.starts_with("127.")) return false;
  int parts = 0, value = -1;
  for (std::size_t at = 0; at <= host.size(); ++at) {
    char const c = at < host.size() ? host[at] : '.';
    if (c == '.') {
      if (value < 0) return false;
      ++parts;
      value = -1;
    } else if (c >= '0' && c <= '9') {
      value = (value < 0 ? 0 : value * 10) + (c - '0');
      if (value > 255) return false;
    } else {
      return false;
    }
  }
  return parts == 4;
}

}  // namespace

Result<ListenAddress> parse_listen_address(std::string_view text, std::string const& option) {
  ListenAddress address;
  if (text.starts_with(kUnixPrefix)) {
    address.host = text.substr(kUnixPrefix.size());
    address.unix_socket = true;
    constexpr std::size_t kLongest = 107;  // sun_path of unix(7), less its end
    if (address.host.empty() || address.host.size() > kLongest || address.host.find('\0') != std::string::npos)
      return usage_error(option + ": " + in_quotes(text) + " names no socket: write unix: and a path of at most 107 bytes");
    return address;
  }
  auto const colon = text.rfind(':');
  auto host = colon == std::string_view::npos ? std::string_view() : text.substr(0, colon);
  auto const port = colon == std::string_view::npos ? std::string_view() : text.substr(colon + 1);
  if (host.starts_with('[') && host.ends_with(']')) host = host.substr(1, host.size() - 2);
  bool const good_port = !port.empty() && port.size() <= 5 && port.find_first_not_of("0123456789") == std::string_view::npos;
  if (host.empty() || !good_port || std::stoi(std::string(port)) > 65535)
    return usage_error(option + ": " + in_quotes(text) + " is no ADDRESS:PORT; for instance 127.0.0.1:8642, or port 0 for any that is free");
  address.host = host;
  std::array<unsigned char, sizeof(in6_addr)> bytes{};
  bool const numbers =
      ::inet_pton(AF_INET, address.host.c_str(), bytes.data()) == 1 || ::inet_pton(AF_INET6, address.host.c_str(), bytes.data()) == 1;
  if (!numbers && address.host != "localhost")
    return usage_error(option + ": " + in_quotes(text) + " is a name; write the address of this machine in numbers, such as 192.0.2.7:8642");
  address.port = std::stoi(std::string(port));
  return address;
}

bool is_of_this_machine(ListenAddress const& address) { return address.unix_socket || is_own(address.host); }

bool is_any_address(ListenAddress const& address) {
  constexpr std::string_view kZeros = "0:.";
  return !address.unix_socket && std::ranges::all_of(address.host, [&](char c) { return kZeros.find(c) != std::string_view::npos; });
}

std::string shown_address(ListenAddress const& address, bool tls) {
  if (address.unix_socket) return "unix:" + address.host;
  bool const six = address.host.find(':') != std::string::npos;
  return std::string(tls ? "https://" : "http://") + (six ? "[" + address.host + "]" : address.host) + ":" + std::to_string(address.port) + "/";
}

Outcome serve(ServerOptions const& options, Answerer const& answer) {
  auto const found = load_from_module("layright-http", kServeEntry);
  if (!found) return found.error();
  std::string trouble;
  if (reinterpret_cast<ServeEntry>(*found)(options, answer, trouble)) return done();
  return Error{ErrorKind::cannot_create, shown_address(options.address, !options.certificate.empty()) + ": the desk cannot listen there: " + trouble};
}

}  // namespace layright
