// A kernel without seccomp and Landlock, as far as a program can tell: loaded before it, this refuses both.
#include <dlfcn.h>
#include <errno.h>
#include <stdarg.h>
#include <sys/syscall.h>
#include <unistd.h>

extern "C" int seccomp_load(void*) { return -EINVAL; }

extern "C" long syscall(long number, ...) {
  using Syscall = long (*)(long, long, long, long, long, long, long);
  static auto const real = reinterpret_cast<Syscall>(dlsym(RTLD_NEXT, "syscall"));
  va_list rest;
  va_start(rest, number);
  long words[6];
  for (long& word : words) word = va_arg(rest, long);
  va_end(rest);
  if (number == SYS_landlock_create_ruleset) {
    errno = ENOSYS;
    return -1;
  }
  return real(number, words[0], words[1], words[2], words[3], words[4], words[5]);
}
