#include "desk/users.h"

#include <fcntl.h>
#include <sys/stat.h>

#include <algorithm>
#include <fstream>
#include <span>
#include <utility>

#include "base/in_quotes.h"
#include "base/module.h"
#include "base/utf8.h"
#include "desk/password_module/entry.h"
#include "write/output_file.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

constexpr char const* kFirstLine = "layright desk users 1";
constexpr std::size_t kLongestName = 64, kShortestPassword = 8, kLongestPassword = 500;

}  // namespace

Result<PasswordHands> password_hands() {
  auto const hash = load_from_module("layright-password", kHashEntry);
  if (!hash) return hash.error();
  auto const match = load_from_module("layright-password", kMatchEntry);
  if (!match) return match.error();
  auto const make = reinterpret_cast<HashEntry>(*hash);
  auto const compare = reinterpret_cast<MatchEntry>(*match);
  return PasswordHands{[make](std::string const& password) -> Result<std::string> {
                         std::string made;
                         if (!make(password, made)) return Error{ErrorKind::internal, "the password cannot be hashed"};
                         return made;
                       },
                       [compare](std::string const& password, std::string const& kept) { return compare(password, kept); }};
}

fs::path users_beside(fs::path const& kept) { return kept.native() + ".users"; }

Result<std::vector<DeskUser>> read_users(fs::path const& file) {
  std::vector<DeskUser> users;
  std::error_code none;
  if (!fs::exists(file, none)) return users;
  std::ifstream in(file);
  std::string line;
  if (!std::getline(in, line)) return Error{ErrorKind::io, file.string() + ": the users of the desk cannot be read"};
  if (line != kFirstLine) return Error{ErrorKind::data, file.string() + " is no list of the desk's users"};
  while (std::getline(in, line)) {
    auto const colon = line.find(':');
    if (colon == std::string::npos || colon == 0 || colon + 1 == line.size())
      return Error{ErrorKind::data, file.string() + " has a line that is no user of the desk"};
    users.push_back({line.substr(0, colon), line.substr(colon + 1)});
  }
  return users;
}

Outcome write_users(fs::path const& file, std::vector<DeskUser> const& users) {
  std::string text = std::string(kFirstLine) + "\n";
  for (auto const& user : users) text += user.name + ":" + user.hash + "\n";
  auto const before = ::umask(0177);
  auto out = OutputFile::create(file, true, {});
  ::umask(before);
  if (!out) return out.error();
  ::fchmod(out->descriptor(), 0600);
  if (auto const o = out->write(std::as_bytes(std::span(text))); !o) return o;
  return out->commit();
}

Outcome check_user_name(std::string const& name) {
  bool const readable = std::ranges::none_of(name, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f || c == ':'; });
  bool const trimmed = !name.empty() && name.front() != ' ' && name.back() != ' ' && name.front() != '-';
  if (trimmed && name.size() <= kLongestName && readable && valid_utf8(name) == name) return done();
  return usage_error(in_quotes(name) + " is no name for a user: write 1 to 64 readable characters without a colon");
}

Outcome check_password(std::string const& password) {
  auto const characters = std::ranges::count_if(password, [](char c) { return (static_cast<unsigned char>(c) & 0xc0) != 0x80; });
  if (characters < static_cast<std::ptrdiff_t>(kShortestPassword)) return usage_error("a password has at least 8 characters");
  if (password.size() > kLongestPassword || password.find('\0') != std::string::npos) return usage_error("a password has at most 500 bytes of text");
  return done();
}

}  // namespace layright
