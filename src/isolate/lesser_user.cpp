#include "isolate/lesser_user.h"

#include <grp.h>
#include <linux/capability.h>
#include <pwd.h>
#include <signal.h>
#include <sys/prctl.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdint>
#include <cstring>

namespace layright {
namespace {

/// Keeps these capabilities and no other; children that become other programs have none.
bool keep_capabilities(std::uint32_t wanted) {
  __user_cap_header_struct head{_LINUX_CAPABILITY_VERSION_3, 0};
  std::array<__user_cap_data_struct, 2> sets{};
  if (syscall(SYS_capget, &head, sets.data()) != 0) return false;
  sets[0] = {wanted & sets[0].permitted, wanted & sets[0].permitted, 0};
  sets[1] = {};
  return syscall(SYS_capset, &head, sets.data()) == 0;
}

}  // namespace

bool is_root() { return geteuid() == 0; }

bool become_nobody() {
  if (!is_root()) return keep_capabilities(0);
  pid_t const parent = getppid();
  bool const changed = setgroups(0, nullptr) == 0 && setresgid(kNobody, kNobody, kNobody) == 0 && setresuid(kNobody, kNobody, kNobody) == 0;
  // Changing the user forgets that this process ends with its parent.
  prctl(PR_SET_PDEATHSIG, SIGKILL);
  if (getppid() != parent) _exit(0);
  return keep_capabilities(0) && changed;
}

Outcome become_user(std::string const& user) {
  errno = 0;
  passwd const* const found = getpwnam(user.c_str());
  if (!found)
    return Error{ErrorKind::usage,
                 "there is no user '" + user + "' on this machine, whom the configuration names (user); make that user first, or name another"};
  auto const failed = [&](char const* what) {
    return Error{ErrorKind::io, "cannot become the user '" + user + "' (" + what + "): " + std::strerror(errno)};
  };
  prctl(PR_SET_KEEPCAPS, 1);
  if (initgroups(user.c_str(), found->pw_gid) != 0) return failed("groups");
  if (setresgid(found->pw_gid, found->pw_gid, found->pw_gid) != 0) return failed("group");
  if (setresuid(found->pw_uid, found->pw_uid, found->pw_uid) != 0) return failed("user");
  prctl(PR_SET_KEEPCAPS, 0);
  keep_capabilities(found->pw_uid == 0 ? ~0u : 1u << CAP_LEASE);
  return done();
}

}  // namespace layright
