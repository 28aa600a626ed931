// Loaded before a program (LD_PRELOAD): counts its calls that change files below one folder, and at the n-th kills it or lets the call fail.
//
//   FAULT_BELOW=FOLDER   only what lies below counts
//   FAULT_AT=N           the call that is hit, from 1; without it nothing is hit
//   FAULT_DO=kill        the process ends before the call (the default)
//            power       the same, and all that was not synced is lost: names that were given or taken without a sync of their folder are
//                        as they were before, files have the bytes that they had at their last sync
//            sleep    it goes on a second and a half later
//            ENOSPC, EIO, EACCES   the call fails so; with a + behind it and all that come after
//   FAULT_LOG=FILE       the calls, one a line, with their numbers
//   FAULT_DROP=TEXT      syncs of what has this text in its path, or with a $ at its end, are not done: a program without them
//   FAULT_SENDS=1        what is sent to a server counts too: each statement
//   FAULT_SHARE=1        the folder answers as a share may (NFS): no renaming without replacing, no files without names; of each second link
//                        that it was done already, of each second renaming or removing that there is no such file, though it has done it
//   FAULT_SHIFT=N        the clock of the day is N seconds ahead
//   FAULT_CLOCK=N        each look at the clock of the day finds it N seconds further back
//
// Children are let alone: only the first process counts.
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <time.h>
#include <unistd.h>

#include <map>
#include <mutex>
#include <string>
#include <utility>
#include <vector>

namespace {

template <class Function>
Function real(char const* name) {
  return reinterpret_cast<Function>(dlsym(RTLD_NEXT, name));
}
#define REAL(name) (real<decltype(&::name)>(#name))

using Inode = std::pair<dev_t, ino_t>;

/// One entry of a folder that came or went and is not synced yet.
struct Change {
  Inode folder;
  std::string path;  // of the entry
  std::string kept;  // for one that went: another name of the file; empty: the entry came
};

struct State {
  pid_t process = getpid();
  std::string below, drop, keep;
  long at = 0, count = 0, kept = 0, clock = 0, looks = 0, shift = 0, links = 0;
  bool share = false, sends = false;
  std::string what = "kill";
  int log = -1;
  std::vector<Change> changes;
  std::map<Inode, std::string> synced;  // where a copy of its bytes at the last sync lies; empty: never synced
  std::map<Inode, std::string> dirty;   // and a path that leads to it
  std::mutex several;

  State() {
    auto const said = [](char const* name) { return std::string(getenv(name) ? getenv(name) : ""); };
    below = said("FAULT_BELOW");
    drop = said("FAULT_DROP");
    if (auto const n = said("FAULT_AT"); !n.empty()) at = atol(n.c_str());
    if (auto const s = said("FAULT_SHIFT"); !s.empty()) shift = atol(s.c_str());
    share = !said("FAULT_SHARE").empty();
    sends = !said("FAULT_SENDS").empty();
    if (auto const c = said("FAULT_CLOCK"); !c.empty()) clock = atol(c.c_str());
    if (auto const w = said("FAULT_DO"); !w.empty()) what = w;
    if (auto const l = said("FAULT_LOG"); !l.empty()) log = REAL(open)(l.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0666);
    if (what == "power") {
      keep = below + "-kept";
      REAL(mkdir)(keep.c_str(), 0777);
    }
    unsetenv("LD_PRELOAD");
  }
};

State& state() {
  static State s;
  return s;
}
__attribute__((constructor)) void begin() { state(); }
thread_local bool busy = false;  // our own calls do not count

struct Busy {
  Busy() { busy = true; }
  ~Busy() { busy = false; }
};

std::string path_of(int fd) {
  char link[64], path[PATH_MAX + 64];
  snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
  ssize_t const n = readlink(link, path, sizeof path - 1);
  return n > 0 ? std::string(path, static_cast<size_t>(n)) : std::string();
}

std::string path_at(int folder, char const* name) {
  if (name[0] == '/') return name;
  if (folder != AT_FDCWD) return path_of(folder) + "/" + name;
  char here[PATH_MAX];
  return std::string(getcwd(here, sizeof here) ? here : "") + "/" + name;
}

bool counts(std::string const& path) {
  return !busy && getpid() == state().process && !state().below.empty() && (path == state().below || path.rfind(state().below + "/", 0) == 0);
}

bool inode_of(std::string const& path, Inode& into) {
  struct stat about;
  if (lstat(path.c_str(), &about) != 0) return false;
  into = {about.st_dev, about.st_ino};
  return true;
}
Inode folder_of(std::string const& path) {
  Inode inode{};
  inode_of(path.substr(0, path.rfind('/')), inode);
  return inode;
}

std::string fresh_kept() { return state().keep + "/" + std::to_string(++state().kept); }

void copy_bytes(int from, int to) {
  char buffer[65536];
  off_t at = 0;
  ssize_t n;
  while ((n = REAL(pread)(from, buffer, sizeof buffer, at)) > 0) {
    if (REAL(pwrite)(to, buffer, static_cast<size_t>(n), at) != n) abort();
    at += n;
  }
  if (REAL(ftruncate)(to, at) != 0) abort();
}

[[noreturn]] void die() {
  REAL(kill)(getpid(), SIGKILL);
  _exit(137);
}

/// What a power cut leaves: only what was synced.
void lose_power() {
  Busy own;
  auto& s = state();
  for (auto const& [inode, path] : s.dirty) {
    int const to = REAL(open)(path.c_str(), O_RDWR | O_CLOEXEC);
    if (to < 0) continue;
    auto const copy = s.synced.find(inode);
    if (copy == s.synced.end() || copy->second.empty()) {
      if (REAL(ftruncate)(to, 0) != 0) abort();
    } else {
      int const from = REAL(open)(copy->second.c_str(), O_RDONLY | O_CLOEXEC);
      copy_bytes(from, to);
      REAL(close)(from);
    }
    REAL(close)(to);
  }
  for (auto c = s.changes.rbegin(); c != s.changes.rend(); ++c) {
    if (c->kept.empty()) REAL(unlink)(c->path.c_str());
    else REAL(link)(c->kept.c_str(), c->path.c_str());
  }
}

/// Counts a call; true when it is to fail with errno.
bool hit(char const* call, std::string const& path) {
  auto& s = state();
  ++s.count;
  if (s.log >= 0) {
    Busy own;
    dprintf(s.log, "%ld %s %s\n", s.count, call, path.c_str() + std::min(path.size(), s.below.size()));
  }
  if (s.at == 0 || s.count < s.at) return false;
  bool const lasts = s.what.back() == '+';
  if (s.count > s.at && !lasts) return false;
  std::string const what = lasts ? s.what.substr(0, s.what.size() - 1) : s.what;
  if (what == "ENOSPC") return errno = ENOSPC, true;
  if (what == "EIO") return errno = EIO, true;
  if (what == "EACCES") return errno = EACCES, true;
  if (what == "sleep") return usleep(1500000), false;
  if (what == "power") lose_power();
  die();
}

/// FAULT_DROP: a part of the path, or with a $ its end.
bool drops(std::string const& path) {
  auto const& text = state().drop;
  if (text.empty() || text.back() != '$') return !text.empty() && path.find(text) != std::string::npos;
  auto const end = text.substr(0, text.size() - 1);
  return path.size() >= end.size() && path.compare(path.size() - end.size(), end.size(), end) == 0;
}

bool watches_power() { return !state().keep.empty(); }

void entry_came(std::string const& path) {
  if (watches_power()) state().changes.push_back({folder_of(path), path, {}});
}

/// Called before the entry goes: keeps another name of the file.
std::string keep_entry(std::string const& path) {
  if (!watches_power()) return {};
  Busy own;
  auto const kept = fresh_kept();
  return REAL(link)(path.c_str(), kept.c_str()) == 0 ? kept : std::string();
}
void entry_went(std::string const& path, std::string const& kept) {
  if (!kept.empty()) state().changes.push_back({folder_of(path), path, kept});
}

void take_copy(int fd, Inode inode) {
  auto& copy = state().synced[inode];
  if (copy.empty()) copy = fresh_kept();
  int const to = REAL(open)(copy.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0666);
  int const from = REAL(open)(("/proc/self/fd/" + std::to_string(fd)).c_str(), O_RDONLY | O_CLOEXEC);
  copy_bytes(from, to);
  REAL(close)(from);
  REAL(close)(to);
}

/// `fresh`: we have just made it; else what it holds now was there before us, and is taken for synced.
void made_dirty(int fd, bool fresh) {
  if (!watches_power()) return;
  Busy own;
  struct stat about;
  if (fstat(fd, &about) != 0 || !S_ISREG(about.st_mode)) return;
  Inode const inode{about.st_dev, about.st_ino};
  if (fresh) state().synced[inode].clear();
  else if (state().synced.find(inode) == state().synced.end()) take_copy(fd, inode);
  state().dirty[inode] = path_of(fd);
}

/// A file that somebody else wrote and nobody synced: its bytes may be lost wherever it lies.
void moved_unsynced(std::string const& path) {
  Inode inode;
  if (watches_power() && inode_of(path, inode) && state().synced.find(inode) == state().synced.end()) state().dirty[inode] = path;
  else if (watches_power() && inode_of(path, inode) && state().dirty.count(inode)) state().dirty[inode] = path;
}

void note_synced(int fd) {
  if (!watches_power()) return;
  Busy own;
  auto& s = state();
  struct stat about;
  if (fstat(fd, &about) != 0) return;
  Inode const inode{about.st_dev, about.st_ino};
  if (S_ISDIR(about.st_mode)) {
    std::vector<Change> left;
    for (auto& c : s.changes)
      if (c.folder != inode) left.push_back(std::move(c));
    s.changes = std::move(left);
    return;
  }
  take_copy(fd, inode);
  s.dirty.erase(inode);
}

int opened(int folder, char const* name, int flags, mode_t mode, int (*go)(int, char const*, int, mode_t)) {
  bool const makes = (flags & O_CREAT) != 0 || (flags & O_TMPFILE) == O_TMPFILE;
  if (!makes) return go(folder, name, flags, mode);
  auto const path = path_at(folder, name);
  if (!counts(path)) return go(folder, name, flags, mode);
  if (state().share && (flags & O_TMPFILE) == O_TMPFILE) {
    errno = EOPNOTSUPP;
    return -1;
  }
  Inode before;
  bool const was = inode_of(path, before);
  if ((!was || (flags & O_TMPFILE) == O_TMPFILE) && hit("create", path)) return -1;
  int const fd = go(folder, name, flags, mode);
  if (fd >= 0 && (flags & O_TMPFILE) == O_TMPFILE) made_dirty(fd, true);
  else if (fd >= 0 && !was) entry_came(path), made_dirty(fd, true);
  return fd;
}

int real_openat(int folder, char const* name, int flags, mode_t mode) { return REAL(openat)(folder, name, flags, mode); }

mode_t mode_of(int flags, va_list more) {
  return (flags & O_CREAT) != 0 || (flags & O_TMPFILE) == O_TMPFILE ? static_cast<mode_t>(va_arg(more, int)) : 0;
}

template <class Go>
ssize_t written(char const* call, int fd, Go go) {
  if (busy || getpid() != state().process) return go();
  auto const path = path_of(fd);
  if (!counts(path)) return go();
  if (hit(call, path)) return -1;
  made_dirty(fd, false);
  return go();
}

template <class Go>
int synced(char const* call, int fd, Go go) {
  if (busy || getpid() != state().process) return go();
  auto const path = path_of(fd);
  if (!counts(path)) return go();
  {
    std::lock_guard<std::mutex> const alone(state().several);  // the program syncs several at once
    if (hit(call, path)) return -1;
    if (drops(path)) return 0;
    note_synced(fd);
  }
  return go();
}

/// As one who was asked again, because his first answer was lost.
int answered(int end, int error) {
  if (end != 0 || !state().share || ++state().links % 2 != 0) return end;
  errno = error;
  return -1;
}

template <class Go>
int renamed(std::string const& from, std::string const& to, Go go) {
  if (!counts(from) && !counts(to)) return go();
  if (hit("rename", from + " to " + to)) return -1;
  auto const kept = keep_entry(from);
  std::string over = keep_entry(to);
  int const end = go();
  if (end != 0) return end;
  entry_went(to, over);
  entry_came(to);
  entry_went(from, kept);
  moved_unsynced(to);
  return answered(end, ENOENT);
}

template <class Go>
int linked(std::string const& from, std::string const& to, Go go) {
  if (!counts(to)) return go();
  if (hit("link", from + " to " + to)) return -1;
  int const end = go();
  if (end == 0) entry_came(to), moved_unsynced(to);
  return answered(end, EEXIST);
}

template <class Go>
int unlinked(std::string const& path, Go go) {
  if (!counts(path)) return go();
  struct stat about;
  if (lstat(path.c_str(), &about) != 0) return go();
  if (hit("unlink", path)) return -1;
  auto const kept = keep_entry(path);
  int const end = go();
  if (end == 0) entry_went(path, kept);
  return answered(end, ENOENT);
}

}  // namespace

extern "C" {

#define OPENS(name)                                          \
  int name(char const* path, int flags, ...) {               \
    va_list more;                                            \
    va_start(more, flags);                                   \
    mode_t const mode = mode_of(flags, more);                \
    va_end(more);                                            \
    return opened(AT_FDCWD, path, flags, mode, real_openat); \
  }
#define OPENS_AT(name)                                     \
  int name(int folder, char const* path, int flags, ...) { \
    va_list more;                                          \
    va_start(more, flags);                                 \
    mode_t const mode = mode_of(flags, more);              \
    va_end(more);                                          \
    return opened(folder, path, flags, mode, real_openat); \
  }
OPENS(open)
OPENS(open64)
OPENS_AT(openat)
OPENS_AT(openat64)

int clock_gettime(clockid_t which, timespec* time) noexcept {
  int const end = REAL(clock_gettime)(which, time);
  if (which == CLOCK_REALTIME) time->tv_sec += state().shift;
  if (which == CLOCK_REALTIME && state().clock != 0) time->tv_sec -= state().clock * ++state().looks;
  return end;
}
ssize_t send(int fd, void const* bytes, size_t count, int flags) {
  if (state().sends && !busy && getpid() == state().process && hit("send", "to a server")) return -1;
  return REAL(send)(fd, bytes, count, flags);
}
ssize_t write(int fd, void const* bytes, size_t count) {
  return written("write", fd, [&] { return REAL(write)(fd, bytes, count); });
}
ssize_t pwrite(int fd, void const* bytes, size_t count, off_t at) {
  return written("write", fd, [&] { return REAL(pwrite)(fd, bytes, count, at); });
}
ssize_t pwrite64(int fd, void const* bytes, size_t count, off_t at) {
  return written("write", fd, [&] { return REAL(pwrite64)(fd, bytes, count, at); });
}
int ftruncate(int fd, off_t size) noexcept {
  return static_cast<int>(written("truncate", fd, [&] { return static_cast<ssize_t>(REAL(ftruncate)(fd, size)); }));
}
int ftruncate64(int fd, off_t size) noexcept {
  return static_cast<int>(written("truncate", fd, [&] { return static_cast<ssize_t>(REAL(ftruncate64)(fd, size)); }));
}
int fsync(int fd) {
  return synced("fsync", fd, [&] { return REAL(fsync)(fd); });
}
int fdatasync(int fd) {
  return synced("fdatasync", fd, [&] { return REAL(fdatasync)(fd); });
}
int rename(char const* from, char const* to) noexcept {
  return renamed(path_at(AT_FDCWD, from), path_at(AT_FDCWD, to), [&] { return REAL(rename)(from, to); });
}
int renameat(int a, char const* from, int b, char const* to) noexcept {
  return renamed(path_at(a, from), path_at(b, to), [&] { return REAL(renameat)(a, from, b, to); });
}
int renameat2(int a, char const* from, int b, char const* to, unsigned flags) noexcept {
  if (state().share && flags != 0 && counts(path_at(b, to))) {
    errno = EINVAL;
    return -1;
  }
  return renamed(path_at(a, from), path_at(b, to), [&] { return REAL(renameat2)(a, from, b, to, flags); });
}
int link(char const* from, char const* to) noexcept {
  return linked(from, path_at(AT_FDCWD, to), [&] { return REAL(link)(from, to); });
}
int linkat(int a, char const* from, int b, char const* to, int flags) noexcept {
  return linked(from, path_at(b, to), [&] { return REAL(linkat)(a, from, b, to, flags); });
}
int unlink(char const* path) noexcept {
  return unlinked(path_at(AT_FDCWD, path), [&] { return REAL(unlink)(path); });
}
int unlinkat(int folder, char const* path, int flags) noexcept {
  return unlinked(path_at(folder, path), [&] { return REAL(unlinkat)(folder, path, flags); });
}
int mkdir(char const* path, mode_t mode) noexcept {
  auto const whole = path_at(AT_FDCWD, path);
  if (counts(whole) && hit("mkdir", whole)) return -1;
  return REAL(mkdir)(path, mode);
}
}
