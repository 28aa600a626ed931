// Who asks, and how one begins and ends to work at the desk.
#include <nlohmann/json.hpp>

#include "desk/desk.h"
#include "desk/guard.h"
#include "desk/job_steps.h"

namespace layright {
namespace {

/// The value of a cookie (RFC 6265, 5.4); empty where there is none, or more than one of that name.
std::string cookie_of(WebRequest const& request, std::string const& name) {
  auto const all = request.header("cookie");
  std::string value;
  int count = 0;
  for (std::size_t at = 0; at < all.size();) {
    auto end = all.find_first_of(";,", at);
    if (end == std::string::npos) end = all.size();
    auto pair = all.substr(at, end - at);
    pair.erase(0, pair.find_first_not_of(' '));
    if (pair.starts_with(name + "=") && ++count == 1) value = pair.substr(name.size() + 1);
    at = end + 1;
  }
  return count == 1 ? value : "";
}

}  // namespace

/// A browser keeps cookies by machine, not by port: two desks of one machine must not end each other's sessions. The prefix asks for TLS and for this
/// very name (RFC 6265bis, 4.1.3.2).
std::string Desk::cookie_name(WebRequest const& request) const {
  auto const host = request.header("host");
  auto const colon = host.rfind(':');
  bool const port = colon != std::string::npos && host.find(']', colon) == std::string::npos;
  return std::string(tls_ ? "__Host-" : "") + "layright" + (port ? "-" + host.substr(colon + 1) : "");
}

std::optional<Visitor> Desk::visitor_of(WebRequest const& request) {
  if (!sessions_.has_users()) return by_users_alone_ ? std::nullopt : std::optional(Visitor{"", token_});
  bool const by_itself = request.method == "GET" && request.path.starts_with("/api/");
  return sessions_.find(cookie_of(request, cookie_name(request)), !by_itself);
}

WebAnswer Desk::login(WebRequest const& request) {
  auto const said = said_in(request);
  if (!said) return error_of(said.error());
  auto const name = said->value("name", std::string()), password = said->value("password", std::string());
  if (!sessions_.has_users() || !hands_.passwords.matches) return error_answer(422, "This desk has no users: nobody needs to log in.");
  auto const key = sessions_.login(name, password, request.from);
  if (!key) {
    bool const too_many = key.error().kind == ErrorKind::try_again;
    auto answer = error_answer(too_many ? 429 : 403, key.error().message);
    if (too_many) answer.headers.emplace_back("Retry-After", "900");
    ++refused_;
    return answer;
  }
  sessions_.end(cookie_of(request, cookie_name(request)));  // whatever the browser had before: a session that others know is worth nothing
  auto answer = json_answer({{"user", name}});
  answer.headers.emplace_back("Set-Cookie", cookie_name(request) + "=" + *key + "; Path=/; HttpOnly; SameSite=Strict" + (tls_ ? "; Secure" : ""));
  return answer;
}

WebAnswer Desk::logout(WebRequest const& request) {
  sessions_.end(cookie_of(request, cookie_name(request)));
  auto answer = json_answer({{"user", ""}});
  answer.headers.emplace_back("Set-Cookie",
                              cookie_name(request) + "=; Path=/; HttpOnly; SameSite=Strict; Max-Age=0" + std::string(tls_ ? "; Secure" : ""));
  return answer;
}

WebAnswer Desk::me(Visitor const& visitor) { return json_answer({{"user", visitor.name}, {"token", visitor.token}}); }

}  // namespace layright
