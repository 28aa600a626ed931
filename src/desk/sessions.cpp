#include "desk/sessions.h"

#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <fstream>
#include <span>
#include <sstream>
#include <utility>

#include "base/hex.h"
#include "base/sha256.h"

namespace layright {
namespace {

constexpr std::size_t kKeyBytes = 32, kMostFailures = 10'000;

constexpr char const* kSessionsFirst = "layright desk sessions 1";
constexpr auto kWriteUsed = std::chrono::minutes(5);  // a session may be taken for idle so much sooner after a restart
constexpr auto kClocksDiffer = std::chrono::minutes(5);

std::string digest(std::string const& text) { return sha256_hex(std::as_bytes(std::span(text))); }

std::string kept_as(std::string const& key) { return digest(key); }

/// Only who has the key knows it, before a restart and after.
std::string token_of(std::string const& key) { return digest("token\n" + key); }

long long seconds_of(Sessions::Clock::time_point at) { return std::chrono::duration_cast<std::chrono::seconds>(at.time_since_epoch()).count(); }

Sessions::Clock::time_point at_second(long long seconds) { return Sessions::Clock::time_point(std::chrono::seconds(seconds)); }

std::string mark_of_file(std::filesystem::path const& path) {
  struct stat about {};
  if (::stat(path.c_str(), &about) != 0) return {};
  return std::to_string(about.st_ino) + " " + std::to_string(about.st_size) + " " + std::to_string(about.st_mtim.tv_sec) + "." +
         std::to_string(about.st_mtim.tv_nsec);
}

}  // namespace

std::filesystem::path sessions_beside(std::filesystem::path const& kept, std::string const& address) {
  char machine[256] = "";
  (void)::gethostname(machine, sizeof machine - 1);
  return kept.native() + ".sessions-" + digest(std::string(machine) + "\n" + address).substr(0, 12);
}

Sessions::Sessions(std::filesystem::path users_file, PasswordHands hands, LoginLimits limits, Now now)
    : file_(std::move(users_file)), hands_(std::move(hands)), limits_(limits), now_(std::move(now)) {}

void Sessions::look() {
  auto seen = mark_of_file(file_);
  if (seen == mark_) return;
  mark_ = std::move(seen);
  auto read = read_users(file_);
  damaged_ = !read;
  users_ = read ? std::move(*read) : std::vector<DeskUser>();
}

bool Sessions::has_users() {
  std::lock_guard const lock(mutex_);
  look();
  return damaged_ || !users_.empty();
}

std::string Sessions::hash_of(std::string const& name) const {
  auto const found = std::ranges::find(users_, name, &DeskUser::name);
  return found == users_.end() ? "" : found->hash;
}

/// Counts it as a guess that failed, until it is shown to be right.
bool Sessions::may_guess(std::string const& name, std::string const& address) {
  auto const now = now_();
  std::pair<std::string, int> const counted[] = {
      {"n " + name, limits_.of_name}, {"a " + address, limits_.of_address}, {"b " + address + "\n" + name, limits_.of_name_from_address}};
  for (auto& [key, most] : counted) {
    auto const found = failures_.find(key);
    if (found == failures_.end()) continue;
    std::erase_if(found->second, [&](Clock::time_point at) { return now - at >= limits_.forget; });
    if (std::ssize(found->second) >= most) return false;
  }
  if (failures_.size() > kMostFailures) std::erase_if(failures_, [&](auto const& each) { return now - each.second.back() >= limits_.forget; });
  if (failures_.size() > kMostFailures) return false;
  for (auto& [key, most] : counted) failures_[key].push_back(now);
  return true;
}

Result<std::string> Sessions::login(std::string const& name, std::string const& password, std::string const& address) {
  std::string hash;
  {
    std::lock_guard const lock(mutex_);
    look();
    if (!may_guess(name, address)) return Error{ErrorKind::try_again, "Too many tries. Wait a quarter of an hour."};
    hash = hash_of(name);
  }
  bool matches = false;
  {
    std::lock_guard const lock(hashing_);
    // A name that nobody has takes as long as one that somebody has.
    if (decoy_.empty()) decoy_ = hands_.hash(random_hexadecimal(kKeyBytes)).value_or(std::string());
    matches = hands_.matches(password, hash.empty() ? decoy_ : hash) && !hash.empty();
  }
  if (!matches) return usage_error("Name or password is wrong.");
  auto const key = random_hexadecimal(kKeyBytes);
  if (key.empty()) return Error{ErrorKind::internal, "The machine has no randomness."};
  std::lock_guard const lock(mutex_);
  failures_.erase("b " + address + "\n" + name);
  for (auto const& counted : {"n " + name, "a " + address})
    if (auto const found = failures_.find(counted); found != failures_.end() && !found->second.empty()) found->second.pop_back();
  (void)forget_old();
  if (sessions_.size() >= limits_.most_sessions)
    sessions_.erase(std::ranges::min_element(sessions_, {}, [](auto const& each) { return each.second.used; }));
  sessions_[kept_as(key)] = {{name, token_of(key)}, digest(hash), now_(), now_()};
  write_kept();
  return key;
}

/// Whether there were any. What began later than now is of a clock that went wrong.
bool Sessions::forget_old() {
  auto const now = now_();
  return std::erase_if(sessions_, [&](auto const& each) {
           auto const& [visitor, password, begun, used] = each.second;
           return now - used >= limits_.idle || now - begun >= limits_.longest || begun - now > kClocksDiffer;
         }) > 0;
}

void Sessions::keep_in(std::filesystem::path file) {
  std::lock_guard const lock(mutex_);
  kept_ = std::move(file);
  read_kept();
  if (forget_old()) write_kept();
}

/// A line each: the key's digest, that of the password's hash, when it began and was used, and whose it is.
void Sessions::read_kept() {
  std::ifstream in(kept_);
  std::string line;
  if (!std::getline(in, line) || line != kSessionsFirst) return;
  while (sessions_.size() < limits_.most_sessions && std::getline(in, line)) {
    std::istringstream words(line);
    std::string key, password, name;
    long long begun = 0, used = 0;
    if (!(words >> key >> password >> begun >> used) || words.get() != ' ' || !std::getline(words, name) || name.empty()) return;
    sessions_[key] = {{name, ""}, password, at_second(begun), at_second(used)};
  }
}

void Sessions::write_kept() {
  if (kept_.empty()) return;
  std::string text = std::string(kSessionsFirst) + "\n";
  for (auto const& [key, each] : sessions_)
    text += key + " " + each.password + " " + std::to_string(seconds_of(each.begun)) + " " + std::to_string(seconds_of(each.used)) + " " +
            each.visitor.name + "\n";
  (void)write_for_owner(kept_, text);
  written_ = now_();
}

std::optional<Visitor> Sessions::find(std::string const& key, bool works) {
  if (key.empty()) return std::nullopt;
  std::lock_guard const lock(mutex_);
  look();
  if (forget_old()) write_kept();
  auto const found = sessions_.find(kept_as(key));
  if (found == sessions_.end()) return std::nullopt;
  auto& [visitor, password, begun, used] = found->second;
  if (auto const hash = hash_of(visitor.name); hash.empty() || digest(hash) != password) {
    sessions_.erase(found);
    write_kept();
    return std::nullopt;
  }
  visitor.token = token_of(key);
  if (works) used = now_();
  if (used - written_ >= kWriteUsed) write_kept();
  return visitor;
}

void Sessions::end(std::string const& key) {
  std::lock_guard const lock(mutex_);
  if (sessions_.erase(kept_as(key)) > 0) write_kept();
}

int Sessions::count() {
  std::lock_guard const lock(mutex_);
  (void)forget_old();
  return static_cast<int>(sessions_.size());
}

}  // namespace layright
