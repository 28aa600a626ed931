#include "intake/shut_in_program.h"

#include <fcntl.h>
#include <linux/landlock.h>
#include <poll.h>
#include <seccomp.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cmath>
#include <cstring>
#include <filesystem>

namespace layright {
namespace {

constexpr std::uint64_t kRead = LANDLOCK_ACCESS_FS_READ_FILE | LANDLOCK_ACCESS_FS_READ_DIR | LANDLOCK_ACCESS_FS_EXECUTE;
constexpr std::uint64_t kWrite = LANDLOCK_ACCESS_FS_WRITE_FILE | LANDLOCK_ACCESS_FS_REMOVE_FILE | LANDLOCK_ACCESS_FS_MAKE_REG |
                                 LANDLOCK_ACCESS_FS_REMOVE_DIR | LANDLOCK_ACCESS_FS_MAKE_DIR;
constexpr std::uint64_t kAll = kRead | kWrite | LANDLOCK_ACCESS_FS_MAKE_CHAR | LANDLOCK_ACCESS_FS_MAKE_SOCK | LANDLOCK_ACCESS_FS_MAKE_FIFO |
                               LANDLOCK_ACCESS_FS_MAKE_BLOCK | LANDLOCK_ACCESS_FS_MAKE_SYM;
// Where Debian keeps programs, libraries, their settings and fonts.
constexpr std::array kReadable = {"/usr", "/lib", "/lib64", "/bin", "/etc", "/var/lib/ghostscript", "/dev/null", "/dev/urandom"};

void allow(int rules, char const* path, std::uint64_t access) {
  int const at = open(path, O_PATH | O_CLOEXEC);
  if (at < 0) return;
  struct stat about {};
  if (fstat(at, &about) == 0 && !S_ISDIR(about.st_mode)) access &= LANDLOCK_ACCESS_FS_READ_FILE | LANDLOCK_ACCESS_FS_WRITE_FILE | LANDLOCK_ACCESS_FS_EXECUTE;
  landlock_path_beneath_attr const rule{access, at};
  syscall(SYS_landlock_add_rule, rules, LANDLOCK_RULE_PATH_BENEATH, &rule, 0);
  close(at);
}

void keep_to_folders(char const* scratch) {
  landlock_ruleset_attr attr{};
  attr.handled_access_fs = kAll;
  int const rules = static_cast<int>(syscall(SYS_landlock_create_ruleset, &attr, sizeof attr, 0));
  if (rules < 0) return;
  for (auto const* path : kReadable) allow(rules, path, kRead | (std::strncmp(path, "/dev/", 5) == 0 ? LANDLOCK_ACCESS_FS_WRITE_FILE : 0));
  allow(rules, scratch, kRead | kWrite);
  syscall(SYS_landlock_restrict_self, rules, 0);
  close(rules);
}

void keep_off_network() {
  scmp_filter_ctx filter = seccomp_init(SCMP_ACT_ALLOW);
  if (!filter) return;
  for (int call : {SCMP_SYS(socket), SCMP_SYS(socketpair), SCMP_SYS(ptrace), SCMP_SYS(process_vm_writev), SCMP_SYS(bpf), SCMP_SYS(mount), SCMP_SYS(keyctl)})
    seccomp_rule_add(filter, SCMP_ACT_ERRNO(EPERM), call, 0);
  seccomp_load(filter);
  seccomp_release(filter);
}

void limit(__rlimit_resource_t what, rlim_t value) {
  rlimit const r{value, value};
  setrlimit(what, &r);
}

[[noreturn]] void become(ShutInProgram const& program, char const* scratch, int said) {
  prctl(PR_SET_PDEATHSIG, SIGKILL);
  dup2(program.input, 0);
  dup2(program.output, 1);
  dup2(said, 2);
  syscall(SYS_close_range, 3u, ~0u, 0);
  limit(RLIMIT_CORE, 0);
  limit(RLIMIT_AS, program.memory_bytes);
  limit(RLIMIT_FSIZE, program.output_bytes);
  auto const seconds = static_cast<rlim_t>(std::ceil(program.seconds));
  rlimit const processor{seconds, seconds + 1};  // at the first it gets a signal of its own, at the second one that tells nothing
  setrlimit(RLIMIT_CPU, &processor);
  prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0);
  keep_to_folders(scratch);
  keep_off_network();
  std::string const temporary = std::string("TMPDIR=") + scratch;
  std::array<char*, 4> environment{const_cast<char*>(temporary.c_str()), const_cast<char*>("PATH=/usr/bin"), const_cast<char*>("LC_ALL=C.UTF-8"), nullptr};
  std::string const path = "/usr/bin/" + program.words[0];
  std::vector<char*> words;
  for (auto const& w : program.words) words.push_back(const_cast<char*>(w.c_str()));
  words.push_back(nullptr);
  execve(path.c_str(), words.data(), environment.data());
  _exit(127);
}

/// The first few lines of what the program said, in one.
std::string first_words(int said) {
  std::array<char, 300> text{};
  ssize_t const n = pread(said, text.data(), text.size() - 1, 0);
  std::string line(text.data(), static_cast<std::size_t>(n > 0 ? n : 0));
  for (auto& c : line)
    if (c == '\n' || c == '\r') c = ' ';
  return line;
}

bool ended_in_time(pid_t child, double seconds) {
  int const handle = static_cast<int>(syscall(SYS_pidfd_open, child, 0));
  if (handle < 0) return true;
  pollfd ended{handle, POLLIN, 0};
  bool const in_time = poll(&ended, 1, static_cast<int>(seconds * 1000)) > 0;
  if (!in_time) kill(child, SIGKILL);
  close(handle);
  return in_time;
}

}  // namespace

Outcome run_shut_in(ShutInProgram const& program) {
  auto scratch = (std::filesystem::temp_directory_path() / ("layright-" + std::string(6, 'X'))).native();  // mkdtemp replaces the six letters
  if (!mkdtemp(scratch.data())) return Error{ErrorKind::io, std::string("no folder for scratch files can be made: ") + std::strerror(errno)};
  int const said = program.messages >= 0 ? dup(program.messages) : memfd_create("what the program said", MFD_CLOEXEC);
  pid_t const child = fork();
  if (child == 0) become(program, scratch.c_str(), said);
  bool in_time = true;
  int status = 0;
  if (child > 0) {
    in_time = ended_in_time(child, program.seconds);
    while (waitpid(child, &status, 0) < 0 && errno == EINTR) {
    }
  }
  auto const words = first_words(said);
  close(said);
  std::error_code ignored;
  std::filesystem::remove_all(scratch, ignored);
  if (child < 0) return Error{ErrorKind::io, "no process could be started; try again"};
  if (!in_time || (WIFSIGNALED(status) && WTERMSIG(status) == SIGXCPU))
    return Error{ErrorKind::hold, program.words[0] + " took longer than " + std::to_string(static_cast<int>(program.seconds)) + " s"};
  if (WIFEXITED(status) && WEXITSTATUS(status) == 127) return Error{ErrorKind::internal, program.words[0] + " is not installed"};
  if (!WIFEXITED(status) || WEXITSTATUS(status) != 0)
    return Error{ErrorKind::internal, program.words[0] + " failed" + (words.empty() ? "" : ": " + words)};
  return done();
}

}  // namespace layright
