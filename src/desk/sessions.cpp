#include "desk/sessions.h"

#include <sys/stat.h>

#include <algorithm>
#include <span>
#include <utility>

#include "base/hex.h"
#include "base/sha256.h"

namespace layright {
namespace {

constexpr std::size_t kKeyBytes = 32, kMostFailures = 10'000;

std::string kept_as(std::string const& key) { return sha256_hex(std::as_bytes(std::span(key))); }

std::string mark_of_file(std::filesystem::path const& path) {
  struct stat about {};
  if (::stat(path.c_str(), &about) != 0) return {};
  return std::to_string(about.st_ino) + " " + std::to_string(about.st_size) + " " + std::to_string(about.st_mtim.tv_sec) + "." +
         std::to_string(about.st_mtim.tv_nsec);
}

}  // namespace

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
  auto const key = random_hexadecimal(kKeyBytes), token = random_hexadecimal(kKeyBytes);
  if (key.empty() || token.empty()) return Error{ErrorKind::internal, "The machine has no randomness."};
  std::lock_guard const lock(mutex_);
  failures_.erase("b " + address + "\n" + name);
  for (auto const& counted : {"n " + name, "a " + address})
    if (auto const found = failures_.find(counted); found != failures_.end() && !found->second.empty()) found->second.pop_back();
  forget_old();
  if (sessions_.size() >= limits_.most_sessions)
    sessions_.erase(std::ranges::min_element(sessions_, {}, [](auto const& each) { return each.second.used; }));
  sessions_[kept_as(key)] = {{name, token}, hash, now_(), now_()};
  return key;
}

void Sessions::forget_old() {
  auto const now = now_();
  std::erase_if(sessions_, [&](auto const& each) { return now - each.second.used >= limits_.idle || now - each.second.begun >= limits_.longest; });
}

std::optional<Visitor> Sessions::find(std::string const& key, bool works) {
  if (key.empty()) return std::nullopt;
  std::lock_guard const lock(mutex_);
  look();
  forget_old();
  auto const found = sessions_.find(kept_as(key));
  if (found == sessions_.end()) return std::nullopt;
  if (hash_of(found->second.visitor.name) != found->second.hash) {
    sessions_.erase(found);
    return std::nullopt;
  }
  if (works) found->second.used = now_();
  return found->second.visitor;
}

void Sessions::end(std::string const& key) {
  std::lock_guard const lock(mutex_);
  sessions_.erase(kept_as(key));
}

int Sessions::count() {
  std::lock_guard const lock(mutex_);
  forget_old();
  return static_cast<int>(sessions_.size());
}

}  // namespace layright
