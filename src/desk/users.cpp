#include "desk/users.h"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <span>
#include <utility>

#include "base/in_quotes.h"
#include "base/module.h"
#include "base/unique_fd.h"
#include "base/utf8.h"
#include "base/write_all.h"
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
  return write_for_owner(file, text);
}

Outcome write_for_owner(fs::path const& file, std::string const& text) {
  auto const failed = [&](ErrorKind kind) { return Error{kind, file.string() + " cannot be written: " + std::strerror(errno)}; };
  // Nobody else may open it, not even while it is empty; and the program's own mask is all threads'.
  auto const temporary = file.parent_path() / temporary_output_name();
  UniqueFd const out(::open(temporary.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW, 0600));
  if (!out) return failed(ErrorKind::cannot_create);
  bool const whole = write_all(out.get(), text) == 0 && ::fsync(out.get()) == 0 && ::rename(temporary.c_str(), file.c_str()) == 0;
  if (whole) return done();
  auto const trouble = failed(ErrorKind::io);
  ::unlink(temporary.c_str());
  return trouble;
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
