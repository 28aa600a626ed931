#include "command/desk_users.h"

#include <termios.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <iostream>

#include "command/command.h"
#include "desk/users.h"
#include "report/report.h"

namespace layright {
namespace {

/// Nothing of what is typed is shown, as long as it lives.
class SilentTerminal {
 public:
  SilentTerminal() {
    known_ = ::tcgetattr(STDIN_FILENO, &before_) == 0;
    auto silent = before_;
    silent.c_lflag &= ~static_cast<tcflag_t>(ECHO);
    if (known_) ::tcsetattr(STDIN_FILENO, TCSAFLUSH, &silent);
  }
  ~SilentTerminal() {
    if (known_) ::tcsetattr(STDIN_FILENO, TCSAFLUSH, &before_);
  }
  SilentTerminal(SilentTerminal const&) = delete;
  SilentTerminal& operator=(SilentTerminal const&) = delete;

 private:
  termios before_{};
  bool known_ = false;
};

std::string asked_line(char const* question) {
  std::fputs(question, stderr);
  std::string line;
  {
    SilentTerminal const silent;
    std::getline(std::cin, line);
  }
  std::fputc('\n', stderr);
  return line;
}

Result<std::string> given_password() {
  std::string password;
  if (::isatty(STDIN_FILENO)) {
    password = asked_line("Password: ");
    if (password != asked_line("Once more: ")) return usage_error("the two passwords differ");
  } else {
    std::getline(std::cin, password);
  }
  if (auto const good = check_password(password); !good) return good.error();
  return password;
}

ExitStatus add_user(std::string const& name, std::filesystem::path const& file, std::vector<DeskUser> users) {
  if (auto const good = check_user_name(name); !good) return fail(good.error());
  auto const hands = password_hands();
  if (!hands) return fail(hands.error());
  auto const password = given_password();
  if (!password) return fail(password.error());
  auto const hash = hands->hash(*password);
  if (!hash) return fail(hash.error());
  auto const known = std::ranges::find(users, name, &DeskUser::name);
  bool const is_new = known == users.end();
  if (is_new) users.push_back({name, *hash});
  else known->hash = *hash;
  if (auto const written = write_users(file, users); !written) return fail(written.error());
  std::printf("%s: %s\n", shown_name(name).c_str(), is_new ? "may log in now" : "has a new password, and must log in again");
  return ExitStatus::ready;
}

ExitStatus remove_user(std::string const& name, std::filesystem::path const& file, std::vector<DeskUser> users) {
  if (std::erase_if(users, [&](DeskUser const& user) { return user.name == name; }) == 0)
    return fail(usage_error("there is no user " + shown_name(name)));
  if (auto const written = write_users(file, users); !written) return fail(written.error());
  std::printf("%s: may not log in any more\n", shown_name(name).c_str());
  if (users.empty()) std::printf("No users are left: whoever reaches the desk on this machine may decide.\n");
  return ExitStatus::ready;
}

}  // namespace

ExitStatus run_desk_users(std::vector<std::string> const& words, std::filesystem::path const& file) {
  bool const listed = words.size() == 2 && words[1] == "list";
  bool const named = words.size() == 3 && (words[1] == "add" || words[1] == "remove");
  if (words[0] != "user" || (!listed && !named)) return fail(usage_error("say user add NAME, user remove NAME or user list"));
  auto users = read_users(file);
  if (!users) return fail(users.error());
  if (named) return words[1] == "add" ? add_user(words[2], file, std::move(*users)) : remove_user(words[2], file, std::move(*users));
  for (auto const& user : *users) std::printf("%s\n", shown_name(user.name).c_str());
  if (users->empty()) std::printf("No users: whoever reaches the desk on this machine may decide.\n");
  return ExitStatus::ready;
}

}  // namespace layright
