// Who may work at the desk: names and the hashes of their passwords, in a file beside the ledger.
#pragma once
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "base/result.h"

namespace layright {

struct DeskUser {
  std::string name, hash;  // by crypt(5)
};

/// What makes and compares hashes; so that tests need not wait for a slow one.
struct PasswordHands {
  std::function<Result<std::string>(std::string const& password)> hash;
  std::function<bool(std::string const& password, std::string const& hash)> matches;
};
/// yescrypt, by libxcrypt in a module of its own. Error (internal) where it cannot be loaded.
Result<PasswordHands> password_hands();

/// "intake.db.users"; see DeskShop::kept_beside().
std::filesystem::path users_beside(std::filesystem::path const& kept);
/// None where there is no such file. Errors: io, data where it is none of ours.
Result<std::vector<DeskUser>> read_users(std::filesystem::path const& file);
/// For its owner alone, whole or not at all.
Outcome write_users(std::filesystem::path const& file, std::vector<DeskUser> const& users);
/// The same of any text.
Outcome write_for_owner(std::filesystem::path const& file, std::string const& text);

/// A name is 1 to 64 bytes of readable text without a colon. Error (usage).
Outcome check_user_name(std::string const& name);
/// At least 8 characters, at most 500 bytes (NIST SP 800-63B, 5.1.1.2, asks for no more than that). Error (usage).
Outcome check_password(std::string const& password);

}  // namespace layright
