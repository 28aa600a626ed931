#include "desk/guard.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "report/page_json.h"

namespace layright {

std::vector<std::string> own_hosts(ListenAddress const& address, int port, std::vector<std::string> const& given) {
  auto names = given;
  if (is_of_this_machine(address) || is_any_address(address)) names.emplace_back("localhost");
  if (!address.unix_socket) {
    if (is_of_this_machine(address) || is_any_address(address)) names.insert(names.end(), {"127.0.0.1", "[::1]"});
    if (auto const own = address.host.find(':') == std::string::npos ? address.host : "[" + address.host + "]"; own != "127.0.0.1" && own != "[::1]")
      names.push_back(own);
  }
  std::vector<std::string> hosts;
  for (auto const& name : names) {
    if (!address.unix_socket) hosts.push_back(name + ":" + std::to_string(port));
    if (address.unix_socket || port == 80 || port == 443) hosts.push_back(name);
  }
  return hosts;
}

std::optional<WebAnswer> refusal(WebRequest const& request, std::vector<std::string> const& hosts, bool tls) {
  auto const host = request.header("host");
  if (std::ranges::find(hosts, host) == hosts.end())
    return error_answer(421, "This desk does not go by that name. Open it by the address that layright desk printed.");
  if (request.method != "GET" && request.method != "POST") return error_answer(405, "Only GET and POST are answered.");
  // W3C Fetch Metadata: "none" is a person who typed the address.
  auto const site = request.header("sec-fetch-site");
  bool const from_here = site.empty() || site == "same-origin" || site == "none";
  bool const opens_page = request.header("sec-fetch-mode") == "navigate" && request.method == "GET" && !request.path.starts_with("/api/");
  if (!from_here && !opens_page) return error_answer(403, "A page of another site asked for this.");
  if (request.method == "POST" && request.header("origin") != (tls ? "https://" : "http://") + host)
    return error_answer(403, "Changes are taken from this desk's own pages only.");
  return std::nullopt;
}

void add_safe_headers(WebAnswer& answer, bool tls) {
  constexpr char const* kPolicy =
      "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; form-action 'none'; base-uri 'none'; "
      "frame-ancestors 'none'";
  answer.headers.insert(answer.headers.end(), {{"Content-Security-Policy", kPolicy},
                                               {"X-Content-Type-Options", "nosniff"},
                                               {"Referrer-Policy", "no-referrer"},
                                               {"Cross-Origin-Resource-Policy", "same-origin"},
                                               {"Cross-Origin-Opener-Policy", "same-origin"},
                                               {"Cache-Control", "no-store"}});
  if (tls) answer.headers.emplace_back("Strict-Transport-Security", "max-age=31536000");  // RFC 6797
}

WebAnswer error_answer(int status, std::string const& message) {
  WebAnswer answer;
  answer.status = status;
  answer.type = "application/json";
  answer.text = json_text({{"error", message}});
  return answer;
}

}  // namespace layright
