#include "watch/postgresql_module/session.h"

#include <cctype>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <utility>

#include "base/utf8.h"

namespace layright {
namespace {

/// The shop's time zone as the server calls it: TZ, else what /etc/localtime leads to, else the hours it is off now.
std::string time_zone() {
  char const* const named = std::getenv("TZ");
  std::string zone = named ? named : "";
  if (zone.starts_with(':')) zone.erase(0, 1);
  if (zone.empty()) {
    std::error_code error;
    auto const target = std::filesystem::read_symlink("/etc/localtime", error).native();
    auto const at = target.find("zoneinfo/");
    if (at != std::string::npos) zone = target.substr(at + std::string("zoneinfo/").size());
  }
  for (char const c : zone)
    if (!std::isalnum(static_cast<unsigned char>(c)) && std::string_view("/_+-:,.").find(c) == std::string_view::npos) return {};
  return zone;
}

std::string hours_off() {
  auto const now = std::time(nullptr);
  std::tm local{};
  localtime_r(&now, &local);
  return std::to_string(local.tm_gmtoff) + " seconds";
}

std::string latin1(char c) {
  std::string out;
  append_utf8(out, static_cast<unsigned char>(c));
  return out;
}

}  // namespace

std::string with_timeouts(std::string address) {
  constexpr std::pair<char const*, char const*> kSettings[] = {{"application_name", "layright"}, {"connect_timeout", "10"},
                                                               {"keepalives_idle", "10"},        {"keepalives_interval", "5"},
                                                               {"keepalives_count", "3"},        {"tcp_user_timeout", "15000"}};
  for (auto const& [name, value] : kSettings)
    if (address.find(std::string(name) + "=") == std::string::npos)
      address += (address.find('?') == std::string::npos ? "?" : "&") + std::string(name) + "=" + value;
  return address;
}

std::string session_settings() {
  auto const zone = time_zone();
  return "SET client_encoding='UTF8'; SET standard_conforming_strings=on; SET bytea_output='hex'; SET synchronous_commit=on; "
         "SET default_transaction_isolation='read committed'; SET lock_timeout='10s'; SET statement_timeout='60s'; "
         // Plans are made while the tables are small, and kept: they are to be those for many rows.
         "SET plan_cache_mode=force_generic_plan; SET enable_seqscan=off; SET jit=off; "
         "SET idle_in_transaction_session_timeout='30s'; SET client_min_messages=warning; SET TIME ZONE " +
         (zone.empty() ? "INTERVAL '" + hours_off() + "'" : "'" + zone + "'");
}

std::string regular_expression(std::string const& pattern) {
  std::string out = "^";
  for (std::size_t i = 0; i < pattern.size(); ++i) {
    char const c = pattern[i];
    auto const end = c == '[' ? pattern.find(']', i + 2) : std::string::npos;
    if (c == '*') {
      out += ".*";
    } else if (c == '?') {  // one character of UTF-8, whose bytes these are
      out += "[\\u0001-\\u007f\\u00c0-\\u00ff][\\u0080-\\u00bf]*";
    } else if (end != std::string::npos) {
      out += '[';
      for (++i; i < end; ++i) out += pattern[i] == '\\' || pattern[i] == '[' ? "\\" + latin1(pattern[i]) : latin1(pattern[i]);
      out += ']';
    } else if (std::isalnum(static_cast<unsigned char>(c)) || static_cast<unsigned char>(c) >= 0x80) {
      out += latin1(c);
    } else {
      out += "\\" + latin1(c);
    }
  }
  return out + "$";
}

std::string first_line(std::string text) {
  if (auto const end = text.find('\n'); end != std::string::npos) text.resize(end);
  return text;
}

}  // namespace layright
