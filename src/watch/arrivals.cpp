#include "watch/arrivals.h"

#include <dirent.h>
#include <fcntl.h>
#include <sys/inotify.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstring>
#include <utility>

#include "watch/whole_file.h"

namespace layright {
namespace {

using namespace std::chrono_literals;

// A file that was closed, or moved in, rests this long before it is taken: some writers close and open again at once.
constexpr auto kQuiet = 150ms;
constexpr auto kTurn = 250ms;  // how much later each desk comes to a file than the one before it
constexpr std::size_t kTurns = 4, kSpreadMs = 200;
constexpr auto kWriterAgain = 200ms;      // how soon to look again whether somebody still writes
constexpr auto kForgottenWriter = 15min;  // a file that was written to, never closed by its writer as far as told, and at rest for so long
constexpr auto kLookWithNotices = 60s, kLookWithout = 2s;
constexpr int kDeepest = 64;                // folders in folders
constexpr std::size_t kLongestPath = 3500;  // of 4096 that the kernel takes, with room for what is written beside
constexpr std::uint32_t kNotices =
    IN_CREATE | IN_MODIFY | IN_CLOSE_WRITE | IN_MOVED_TO | IN_MOVED_FROM | IN_DELETE | IN_ATTRIB | IN_DELETE_SELF | IN_MOVE_SELF;

std::string joined(std::string const& folder, std::string const& name) { return folder.empty() ? name : folder + "/" + name; }

std::string last_part(std::string const& name) { return name.substr(name.rfind('/') + 1); }

std::string odd_kind(mode_t mode) {
  if (S_ISLNK(mode)) return "is a link, and links are not followed";
  if (S_ISFIFO(mode)) return "is a pipe, not a file";
  if (S_ISSOCK(mode)) return "is a socket, not a file";
  return "is a device, not a file";
}

}  // namespace

FileMark mark_of(struct stat const& about) {
  return {static_cast<long long>(about.st_dev), static_cast<long long>(about.st_ino), static_cast<long long>(about.st_size),
          about.st_mtim.tv_sec * 1'000'000'000LL + about.st_mtim.tv_nsec};
}

Arrival::Arrival(std::string name, OpenFolder folder, UniqueFd descriptor, FileMark mark)
    : name_(std::move(name)), folder_(std::move(folder)), descriptor_(std::move(descriptor)), mark_(mark) {}

std::string Arrival::file_name() const { return last_part(name_); }

bool Arrival::unchanged() const {
  struct stat about {};
  return ::fstat(descriptor_.get(), &about) == 0 && mark_of(about) == mark_ && writers_of(descriptor_.get()) != Writers::some;
}

Arrivals::Arrivals(std::filesystem::path in, IntakeSettings settings, ReportName report)
    : in_(std::move(in)), settings_(std::move(settings)), report_(std::move(report)) {}

void Arrivals::report_once(std::string const& name, std::string const& what, bool odd) {
  if (odd) odd_.insert(name);
  auto& reported = reported_[name];
  if (std::exchange(reported, what) != what) report_(name, what);
}

void Arrivals::set_due(std::string const& name, Candidate& candidate, SteadyTime when) {
  due_.erase({candidate.due, name});
  candidate.due = when;
  due_.insert({when, name});
}

void Arrivals::share_with(std::string const& desk, std::vector<std::string> desks) {
  desk_ = desk;
  std::erase(desks, desk);
  others_ = std::move(desks);
}

SteadyTime Arrivals::turn(std::string const& name, SteadyTime now) const {
  auto const due = now + std::min<std::chrono::milliseconds>(kQuiet, settings_.settle);
  auto const weight = [&](std::string const& desk) { return std::hash<std::string>{}(name + desk); };
  auto const own = weight(desk_);
  auto const before = std::count_if(others_.begin(), others_.end(), [&](std::string const& other) { return weight(other) > own; });
  if (before == 0) return due;
  // Those whose turn it is go by the time of arrival; whoever helps them out does not, else all would want the same file.
  return due + kTurn * std::min<std::size_t>(static_cast<std::size_t>(before), kTurns) + std::chrono::milliseconds(own % kSpreadMs);
}

void Arrivals::forget(std::string const& name) {
  odd_.erase(name);
  reported_.erase(name);
  auto const found = candidates_.find(name);
  if (found == candidates_.end()) return;
  due_.erase({found->second.due, name});
  candidates_.erase(found);
}

void Arrivals::retry(Arrival const& arrival, SteadyTime when) {
  // It was whole: it need not settle again.
  auto const [found, fresh] = candidates_.try_emplace(arrival.name(), Candidate{arrival.mark(), when, when - settings_.settle, when, looks_});
  set_due(arrival.name(), found->second, when);
}

std::optional<SteadyTime> Arrivals::oldest() const {
  std::optional<SteadyTime> oldest;
  for (auto const& [name, c] : candidates_)
    if (!oldest || c.first < *oldest) oldest = c.first;
  return oldest;
}

void Arrivals::reset_notices() {
  watched_.clear();
  notify_.reset(::inotify_init1(IN_NONBLOCK | IN_CLOEXEC));
  notices_work_ = static_cast<bool>(notify_);
}

/// False while the folder is not there; that is reported once.
bool Arrivals::open_root() {
  auto opened = OpenFolder::open(in_);
  struct stat about {};
  if (!opened || ::fstat(opened->descriptor(), &about) != 0) {
    if (!std::exchange(root_gone_, true))
      report_("", opened ? in_.string() + ": cannot be looked at" : opened.error().message + "; waiting for it to come back");
    root_.reset();
    return false;
  }
  if (std::exchange(root_gone_, false)) report_("", in_.string() + ": is there again");
  auto mark = mark_of(about);
  mark.bytes = mark.modified_ns = 0;
  if (!root_ || mark != root_mark_) reset_notices();
  root_mark_ = mark;
  root_ = std::move(*opened);
  return true;
}

void Arrivals::watch(OpenFolder const& folder, std::string const& name) {
  if (!notices_work_) return;
  auto const path = "/proc/self/fd/" + std::to_string(folder.descriptor());
  int const watch = ::inotify_add_watch(notify_.get(), path.c_str(), kNotices | IN_ONLYDIR);
  if (watch >= 0) {
    watched_[watch] = {name};
    return;
  }
  notices_work_ = false;
  report_(name, std::string("the system does not tell of new files here (") + std::strerror(errno) + "); looking every few seconds instead");
}

void Arrivals::look_at_name(OpenFolder const& folder, std::string const& whole_name, SteadyTime now) {
  auto const name = last_part(whole_name);
  struct stat about {};
  if (::fstatat(folder.descriptor(), name.c_str(), &about, AT_SYMLINK_NOFOLLOW) != 0) return forget(whole_name);
  if (S_ISDIR(about.st_mode)) return;
  if (is_partial_name(settings_, name)) return;
  if (!S_ISREG(about.st_mode)) return report_once(whole_name, odd_kind(about.st_mode) + "; it is left where it is", true);
  if (folder.path().native().size() + name.size() > kLongestPath)
    return report_once(whole_name, "lies too deep to be taken; it is left where it is", true);
  auto const mark = mark_of(about);
  auto const [found, fresh] = candidates_.try_emplace(whole_name, Candidate{mark, now, now, now, looks_});
  auto& candidate = found->second;
  candidate.seen = looks_;
  if (!fresh && candidate.mark == mark) return;
  candidate.mark = mark;
  candidate.changed = now;
  odd_.erase(whole_name);
  set_due(whole_name, candidate, turn(whole_name, now));
}

void Arrivals::look_at_folder(OpenFolder const& folder, std::string const& name, int depth, SteadyTime now) {
  watch(folder, name);
  UniqueFd again(::openat(folder.descriptor(), ".", O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  DIR* const listing = again ? ::fdopendir(again.get()) : nullptr;
  if (!listing) return report_once(name, "the folder cannot be read", true);
  again.release();  // the listing closes it
  std::vector<std::string> folders;
  while (dirent const* const entry = ::readdir(listing)) {
    std::string const each = entry->d_name;
    if (each == "." || each == "..") continue;
    struct stat about {};
    bool const is_folder =
        entry->d_type == DT_DIR ||
        (entry->d_type == DT_UNKNOWN && ::fstatat(folder.descriptor(), each.c_str(), &about, AT_SYMLINK_NOFOLLOW) == 0 && S_ISDIR(about.st_mode));
    if (is_folder) folders.push_back(each);
    else look_at_name(folder, joined(name, each), now);
  }
  ::closedir(listing);
  for (auto const& each : folders) {
    if (is_partial_name(settings_, each)) continue;
    auto const whole_name = joined(name, each);
    if (!settings_.subfolders) {
      report_once(whole_name, "is a folder; files in it are taken only with subfolders = true", false);
      continue;
    }
    if (depth >= kDeepest) {
      report_once(whole_name, "lies too deep to be looked into", true);
      continue;
    }
    if (auto const inner = folder.below(each)) look_at_folder(*inner, whole_name, depth + 1, now);
    else report_once(whole_name, "the folder cannot be read", true);
  }
}

void Arrivals::look(SteadyTime now) {
  if (next_look_ && now < *next_look_) return;
  if (looks_ == 0 && !may_ask_for_writers() && !std::exchange(reported_of_writers_, true))
    report_("",
            "this process cannot see who still writes to another user's file (it has no CAP_LEASE): such files are taken when they were "
            "closed, or have rested for " +
                std::to_string(settings_.settle.count()) + " ms (settle)");
  ++looks_;
  if (open_root()) {
    look_at_folder(*root_, {}, 0, now);
    std::vector<std::string> gone;
    for (auto const& [name, c] : candidates_)
      if (c.seen != looks_) gone.push_back(name);
    for (auto const& name : gone) forget(name);
  }
  bool const reports = notices_work_ && root_;
  auto const usual = std::chrono::milliseconds(reports ? std::chrono::milliseconds(kLookWithNotices) : std::chrono::milliseconds(kLookWithout));
  next_look_ = now + (settings_.poll.count() > 0 ? std::min(settings_.poll, usual) : usual);
}

SteadyTime Arrivals::next(SteadyTime now) const {
  auto next = next_look_.value_or(now);
  if (!due_.empty()) next = std::min(next, due_.begin()->first);
  return next;
}

void Arrivals::take_events(SteadyTime now) {
  alignas(inotify_event) std::array<char, 65536> buffer;
  for (;;) {
    ssize_t const n = ::read(notify_.get(), buffer.data(), buffer.size());
    if (n <= 0) return;
    for (ssize_t at = 0; at < n;) {
      inotify_event head;
      std::memcpy(&head, buffer.data() + at, sizeof head);
      char const* const name = buffer.data() + at + sizeof head;
      event(head.mask, head.wd, head.len > 0 ? std::string(name) : std::string(), now);
      at += static_cast<ssize_t>(sizeof head + head.len);
    }
  }
}

void Arrivals::event(std::uint32_t mask, int watch, std::string const& name, SteadyTime now) {
  auto const folder = watched_.find(watch);
  // Too many at once, or the folder itself has changed: look at everything.
  bool const lost = (mask & (IN_Q_OVERFLOW | IN_DELETE_SELF | IN_MOVE_SELF | IN_IGNORED | IN_UNMOUNT)) != 0;
  if (lost || ((mask & IN_ISDIR) != 0 && settings_.subfolders)) {
    next_look_ = now;
    if ((mask & IN_IGNORED) != 0 && folder != watched_.end()) watched_.erase(folder);
    return;
  }
  if (folder == watched_.end() || name.empty()) return;
  auto const whole_name = joined(folder->second.name, name);
  if ((mask & (IN_DELETE | IN_MOVED_FROM)) != 0) return forget(whole_name);
  auto const lies_in = folder_of(whole_name);
  if (!lies_in) return;
  look_at_name(*lies_in, whole_name, now);
  if (auto const found = candidates_.find(whole_name);
      found != candidates_.end() && (mask & (IN_MODIFY | IN_CLOSE_WRITE | IN_MOVED_TO | IN_CREATE)) != 0) {
    found->second.changed = now;
    if ((mask & IN_MODIFY) != 0) found->second.open = true;
    if ((mask & (IN_CLOSE_WRITE | IN_MOVED_TO)) != 0) found->second.open = false;
    set_due(whole_name, found->second, turn(whole_name, now));
  }
}

std::optional<OpenFolder> Arrivals::folder_of(std::string const& name) const {
  auto folder = OpenFolder::open(in_);
  std::filesystem::path const below = std::filesystem::path(name).parent_path();
  for (auto const& part : below) {
    if (!folder) return std::nullopt;
    folder = folder->below(part.native());
  }
  if (!folder) return std::nullopt;
  return std::move(*folder);
}

std::optional<Arrival> Arrivals::try_take(std::string const& name, Candidate& candidate, SteadyTime now) {
  auto folder = folder_of(name);
  std::string const file_name = last_part(name);
  UniqueFd opened(folder ? ::openat(folder->descriptor(), file_name.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC | O_NOCTTY) : -1);
  struct stat about {};
  if (!opened || ::fstat(opened.get(), &about) != 0 || !S_ISREG(about.st_mode)) {
    int const why = errno;
    bool const gone = !folder || why == ENOENT || why == ELOOP || opened;
    forget(name);
    if (!gone) report_once(name, std::string("cannot be read: ") + std::strerror(why) + "; it is left where it is", true);
    return std::nullopt;
  }
  Arrival arrival(name, std::move(*folder), std::move(opened), mark_of(about));
  if (arrival.mark() != candidate.mark) {
    candidate.mark = arrival.mark();
    candidate.changed = now;
    set_due(name, candidate, turn(name, now));
    return std::nullopt;
  }
  auto const settled = candidate.changed + settings_.settle;
  if (about.st_size == 0) {
    if (now < settled) return set_due(name, candidate, settled), std::nullopt;
    forget(name);
    report_once(name, "is empty; it is left where it is", true);
    return std::nullopt;
  }
  auto const writers = writers_of(arrival.descriptor());
  if (writers == Writers::some) return set_due(name, candidate, now + kWriterAgain), std::nullopt;
  if (writers == Writers::unknown) {
    if (!std::exchange(reported_of_writers_, true))
      report_("", "nobody can see here who still writes to a file, so files are taken when they have rested for " +
                      std::to_string(settings_.settle.count()) + " ms (settle)");
    if (candidate.open && now < candidate.changed + kForgottenWriter) return set_due(name, candidate, now + kWriterAgain), std::nullopt;
    if (now < settled) return set_due(name, candidate, settled), std::nullopt;
  }
  if (now < settled && !has_pdf_trailer(arrival.descriptor(), about.st_size)) return set_due(name, candidate, settled), std::nullopt;
  return arrival;
}

std::vector<Arrival> Arrivals::whole(SteadyTime now, std::size_t most) {
  std::vector<Arrival> arrivals;
  while (arrivals.size() < most && !due_.empty() && due_.begin()->first <= now) {
    auto const name = due_.begin()->second;
    auto& candidate = candidates_.at(name);
    auto const due = candidate.due;
    if (auto arrival = try_take(name, candidate, now)) {
      arrivals.push_back(std::move(*arrival));
      forget(name);
    } else if (auto const still = candidates_.find(name); still != candidates_.end() && still->second.due == due) {
      set_due(name, still->second, now + kWriterAgain);
    }
  }
  return arrivals;
}

void Arrivals::give_up_unfinished(SteadyTime now) {
  std::vector<std::string> names;
  for (auto const& [name, c] : candidates_)
    if (now - c.first > 5 * std::max<std::chrono::milliseconds>(settings_.settle, 2s)) names.push_back(name);
  for (auto const& name : names) {
    forget(name);
    report_once(name, "is still being written; it is left for the next run", true);
  }
}

}  // namespace layright
