// Who has logged in: kept in memory alone, so a restart of the desk asks everybody once more.
#pragma once
#include <chrono>
#include <filesystem>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "desk/users.h"

namespace layright {

/// Who asks. A desk without users has one visitor without a name.
struct Visitor {
  std::string name;
  std::string token;  // what a change must bring along; only the desk's own pages can read it
};

/// How often somebody may guess; whoever guesses more waits until the oldest guess is as old as that.
struct LoginLimits {
  std::chrono::minutes forget{15};
  int of_name_from_address = 5, of_address = 20, of_name = 50;
  std::chrono::hours idle{8}, longest{24};
  std::size_t most_sessions = 1000;
};

class Sessions {
 public:
  using Clock = std::chrono::steady_clock;
  using Now = std::function<Clock::time_point()>;
  /// `users_file`: read again when it has changed.
  Sessions(std::filesystem::path users_file, PasswordHands hands, LoginLimits limits = {}, Now now = Clock::now);

  /// Whether anybody must log in. What is wrong with the file shuts everybody out.
  bool has_users();
  /// The key of a new session, which no visitor can have chosen. Errors: usage (name or password are not right), try_again (too many guesses).
  Result<std::string> login(std::string const& name, std::string const& password, std::string const& address);
  /// Nothing where there is no such session, or where it was idle for too long, or its user is gone or has another password.
  /// `works`: a person does something; else a page asks by itself, which ends no idleness.
  std::optional<Visitor> find(std::string const& key, bool works = true);
  void end(std::string const& key);
  int count();

 private:
  struct Session {
    Visitor visitor;
    std::string hash;  // of its user's password when it began
    Clock::time_point begun, used;
  };
  void look();
  std::string hash_of(std::string const& name) const;
  bool may_guess(std::string const& name, std::string const& address);
  void forget_old();

  std::filesystem::path const file_;
  PasswordHands const hands_;
  LoginLimits const limits_;
  Now const now_;
  std::mutex mutex_, hashing_;  // one password at a time is tried: each takes memory and a core
  std::string mark_ = "unread", decoy_;
  std::vector<DeskUser> users_;
  bool damaged_ = false;
  std::map<std::string, Session> sessions_;                         // by the SHA-256 of the key
  std::map<std::string, std::vector<Clock::time_point>> failures_;  // by whom
};

}  // namespace layright
