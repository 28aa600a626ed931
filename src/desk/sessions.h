// Who has logged in: kept in a file as well, so that a restart of the desk asks nobody once more. It holds no key: nobody can log in by it.
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

/// "intake.db.sessions-" and what tells this desk, at its address of this machine, from others; see DeskShop::kept_beside().
std::filesystem::path sessions_beside(std::filesystem::path const& kept, std::string const& address);

class Sessions {
 public:
  using Clock = std::chrono::system_clock;  // a session outlives the program
  using Now = std::function<Clock::time_point()>;
  /// `users_file`: read again when it has changed.
  Sessions(std::filesystem::path users_file, PasswordHands hands, LoginLimits limits = {}, Now now = Clock::now);

  /// Goes on with the sessions of that file, and keeps them there from now on, for its owner alone. What cannot be read is nobody's session; where it
  /// cannot be written they end with the program.
  void keep_in(std::filesystem::path file);

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
    std::string password;  // the SHA-256 of its hash when it began
    Clock::time_point begun, used;
  };
  void look();
  void read_kept();
  void write_kept();
  std::string hash_of(std::string const& name) const;
  bool may_guess(std::string const& name, std::string const& address);
  bool forget_old();

  std::filesystem::path const file_;
  std::filesystem::path kept_;  // empty: nowhere
  PasswordHands const hands_;
  LoginLimits const limits_;
  Now const now_;
  std::mutex mutex_, hashing_;  // one password at a time is tried: each takes memory and a core
  std::string mark_ = "unread", decoy_;
  Clock::time_point written_{};
  std::vector<DeskUser> users_;
  bool damaged_ = false;
  std::map<std::string, Session> sessions_;                         // by the SHA-256 of the key
  std::map<std::string, std::vector<Clock::time_point>> failures_;  // by whom
};

}  // namespace layright
