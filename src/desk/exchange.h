// A request and its answer as plain values: nothing here knows how they travel.
#pragma once
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/unique_fd.h"

namespace layright {

/// Gives the body piece by piece to whoever takes it, until that says no; false when it broke off.
using BodyReader = std::function<bool(std::function<bool(std::string_view)> const& take)>;

struct WebRequest {
  std::string method = "GET", path = "/";           // the path without what follows a question mark, its escapes resolved: any bytes
  std::map<std::string, std::string> query;         // the first of each name
  std::map<std::string, std::string> headers = {};  // names in lower case; several of one name joined by ", "
  BodyReader body = {};                             // absent: there is none
  std::string from = {};                            // the address that it came from, as numbers; empty for a Unix socket

  std::string header(std::string const& name) const {
    auto const found = headers.find(name);
    return found == headers.end() ? std::string() : found->second;
  }
  std::string asked(std::string const& name) const {
    auto const found = query.find(name);
    return found == query.end() ? std::string() : found->second;
  }
};

struct WebAnswer {
  int status = 200;
  std::string type = "text/plain; charset=utf-8", text = {};
  std::vector<std::pair<std::string, std::string>> headers = {};  // beside those that every answer has
  UniqueFd file = {};                                             // in place of `text`: `file_bytes` of it
  long long file_bytes = 0;
  std::function<std::optional<std::string>()> stream = {};  // in place of both: the next piece, which may take a second; nothing: the end
};

using Answerer = std::function<WebAnswer(WebRequest const&)>;

}  // namespace layright
