#include "isolate/call_filter.h"

#include <fcntl.h>
#include <sched.h>
#include <seccomp.h>
#include <sys/ioctl.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstdint>
#include <initializer_list>

namespace layright {
namespace {

// Asked for by both: memory, time, threads' locks, open descriptors. sysinfo and ioctl are asked for by the allocator and by stdio.
constexpr std::array kBoth = {SCMP_SYS(read),
                              SCMP_SYS(write),
                              SCMP_SYS(readv),
                              SCMP_SYS(writev),
                              SCMP_SYS(pread64),
                              SCMP_SYS(pwrite64),
                              SCMP_SYS(close),
                              SCMP_SYS(lseek),
                              SCMP_SYS(fstat),
                              SCMP_SYS(ftruncate),
                              SCMP_SYS(munmap),
                              SCMP_SYS(mremap),
                              SCMP_SYS(madvise),
                              SCMP_SYS(brk),
                              SCMP_SYS(futex),
                              SCMP_SYS(clock_gettime),
                              SCMP_SYS(gettimeofday),
                              SCMP_SYS(time),
                              SCMP_SYS(getrandom),
                              SCMP_SYS(rt_sigaction),
                              SCMP_SYS(rt_sigprocmask),
                              SCMP_SYS(rt_sigreturn),
                              SCMP_SYS(exit),
                              SCMP_SYS(exit_group),
                              SCMP_SYS(getpid),
                              SCMP_SYS(gettid),
                              SCMP_SYS(sysinfo),
                              SCMP_SYS(getrusage),
                              SCMP_SYS(sched_yield),
                              SCMP_SYS(sigaltstack),
                              SCMP_SYS(uname),
                              SCMP_SYS(restart_syscall),
                              SCMP_SYS(clock_nanosleep),
                              SCMP_SYS(nanosleep)};

// What a program needs to be loaded, to find its fonts, and to work in its scratch folder.
constexpr std::array kPrograms = {SCMP_SYS(execve),
                                  SCMP_SYS(arch_prctl),
                                  SCMP_SYS(set_tid_address),
                                  SCMP_SYS(set_robust_list),
                                  SCMP_SYS(rseq),
                                  SCMP_SYS(stat),
                                  SCMP_SYS(lstat),
                                  SCMP_SYS(newfstatat),
                                  SCMP_SYS(statx),
                                  SCMP_SYS(statfs),
                                  SCMP_SYS(fstatfs),
                                  SCMP_SYS(access),
                                  SCMP_SYS(faccessat),
                                  SCMP_SYS(faccessat2),
                                  SCMP_SYS(readlink),
                                  SCMP_SYS(readlinkat),
                                  SCMP_SYS(getcwd),
                                  SCMP_SYS(getdents64),
                                  SCMP_SYS(unlink),
                                  SCMP_SYS(unlinkat),
                                  SCMP_SYS(mkdir),
                                  SCMP_SYS(mkdirat),
                                  SCMP_SYS(rmdir),
                                  SCMP_SYS(rename),
                                  SCMP_SYS(renameat),
                                  SCMP_SYS(renameat2),
                                  SCMP_SYS(fsync),
                                  SCMP_SYS(fdatasync),
                                  SCMP_SYS(fallocate),
                                  SCMP_SYS(fadvise64),
                                  SCMP_SYS(umask),
                                  SCMP_SYS(dup),
                                  SCMP_SYS(dup2),
                                  SCMP_SYS(dup3),
                                  SCMP_SYS(fcntl),
                                  SCMP_SYS(close_range),
                                  SCMP_SYS(pipe),
                                  SCMP_SYS(pipe2),
                                  SCMP_SYS(poll),
                                  SCMP_SYS(ppoll),
                                  SCMP_SYS(select),
                                  SCMP_SYS(pselect6),
                                  SCMP_SYS(eventfd2),
                                  SCMP_SYS(epoll_create1),
                                  SCMP_SYS(epoll_ctl),
                                  SCMP_SYS(epoll_wait),
                                  SCMP_SYS(epoll_pwait),
                                  SCMP_SYS(memfd_create),
                                  SCMP_SYS(mprotect),
                                  SCMP_SYS(mmap),
                                  SCMP_SYS(getuid),
                                  SCMP_SYS(geteuid),
                                  SCMP_SYS(getgid),
                                  SCMP_SYS(getegid),
                                  SCMP_SYS(getresuid),
                                  SCMP_SYS(getresgid),
                                  SCMP_SYS(getgroups),
                                  SCMP_SYS(getppid),
                                  SCMP_SYS(getpgrp),
                                  SCMP_SYS(getrlimit),
                                  SCMP_SYS(times),
                                  SCMP_SYS(clock_getres),
                                  SCMP_SYS(getcpu),
                                  SCMP_SYS(sched_getaffinity),
                                  SCMP_SYS(membarrier),
                                  SCMP_SYS(preadv),
                                  SCMP_SYS(pwritev),
                                  SCMP_SYS(copy_file_range),
                                  SCMP_SYS(sendfile),
                                  SCMP_SYS(msync)};

/// The library's own macros for this are C, not C++.
scmp_arg_cmp argument(unsigned number, scmp_compare how, scmp_datum_t a, scmp_datum_t b = 0) { return {number, how, a, b}; }

class Filter {
 public:
  Filter() : filter_(seccomp_init(SCMP_ACT_ERRNO(EPERM))), good_(filter_ != nullptr) {
    for (int call : kBoth) allow(call);
    // abort() raises its signal in this very process, which keeps its number when it becomes another program.
    allow(SCMP_SYS(tgkill), {argument(0, SCMP_CMP_EQ, static_cast<scmp_datum_t>(getpid()))});
    allow(SCMP_SYS(ioctl), {argument(1, SCMP_CMP_EQ, TCGETS)});
  }
  ~Filter() {
    if (filter_) seccomp_release(filter_);
  }
  Filter(Filter const&) = delete;
  Filter& operator=(Filter const&) = delete;

  void allow(int call, std::initializer_list<scmp_arg_cmp> where = {}) { rule(SCMP_ACT_ALLOW, call, where); }
  void rule(std::uint32_t action, int call, std::initializer_list<scmp_arg_cmp> where = {}) {
    good_ = good_ && seccomp_rule_add_array(filter_, action, call, static_cast<unsigned>(where.size()), where.begin()) == 0;
  }
  bool load() { return good_ && seccomp_load(filter_) == 0; }

 private:
  scmp_filter_ctx filter_;
  bool good_;
};

/// A file that is opened to be read cannot be emptied by that, which the first two versions of Landlock would let pass.
void allow_opening(Filter& filter, int call, unsigned flags) {
  filter.allow(call, {argument(flags, SCMP_CMP_MASKED_EQ, O_TRUNC, 0)});
  filter.allow(call, {argument(flags, SCMP_CMP_MASKED_EQ, O_ACCMODE, O_WRONLY)});
  filter.allow(call, {argument(flags, SCMP_CMP_MASKED_EQ, O_ACCMODE, O_RDWR)});
}

}  // namespace

bool filter_reader_calls() {
  Filter filter;
  // Memory may be mapped and reprotected, never made executable.
  filter.allow(SCMP_SYS(mmap), {argument(2, SCMP_CMP_MASKED_EQ, PROT_EXEC, 0)});
  filter.allow(SCMP_SYS(mprotect), {argument(2, SCMP_CMP_MASKED_EQ, PROT_EXEC, 0)});
  filter.allow(SCMP_SYS(newfstatat), {argument(3, SCMP_CMP_MASKED_EQ, AT_EMPTY_PATH, AT_EMPTY_PATH)});
  return filter.load();
}

bool filter_program_calls() {
  Filter filter;
  for (int call : kPrograms) filter.allow(call);
  allow_opening(filter, SCMP_SYS(open), 1);
  allow_opening(filter, SCMP_SYS(openat), 2);
  filter.allow(SCMP_SYS(ioctl), {argument(1, SCMP_CMP_EQ, FIONREAD)});
  // Threads, never processes; the newer call has its flags in memory, where no filter sees them, and libraries go on with the older one.
  filter.allow(SCMP_SYS(clone), {argument(0, SCMP_CMP_MASKED_EQ, CLONE_THREAD, CLONE_THREAD)});
  filter.rule(SCMP_ACT_ERRNO(ENOSYS), SCMP_SYS(clone3));
  // Its own limits may be asked for, not set.
  filter.allow(SCMP_SYS(prlimit64), {argument(0, SCMP_CMP_EQ, 0), argument(2, SCMP_CMP_EQ, 0)});
  filter.allow(SCMP_SYS(prctl), {argument(0, SCMP_CMP_EQ, PR_SET_NAME)});
  return filter.load();
}

}  // namespace layright
