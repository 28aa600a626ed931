// A disk on which large files cannot be read yet: loaded before the program, this lets no piece of a file of HELD_BYTES or more be read before the
// path HELD_UNTIL is there, other than the first few bytes by which its kind is known. Whoever reads one where other work waits does not get to that
// work. HELD_IN: only of files below that folder, whether they have names yet or not.
// That one is held is told by the path HELD_TOLD.
#include <dlfcn.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

namespace {

constexpr size_t kHead = 4096;
constexpr int kMostMilliseconds = 300'000;  // longer than any test waits: a read that is held in the wrong place is not mistaken for a slow machine

bool lies_in(int descriptor, char const* folder) {
  char link[64], path[4096] = {};
  snprintf(link, sizeof link, "/proc/self/fd/%d", descriptor);
  return readlink(link, path, sizeof path - 1) > 0 && strncmp(path, folder, strlen(folder)) == 0;
}

void wait_for_it(int descriptor, size_t size) {
  char const* const bytes = getenv("HELD_BYTES");
  char const* const until = getenv("HELD_UNTIL");
  struct stat about {};
  if (!bytes || !until || size <= kHead || fstat(descriptor, &about) != 0 || !S_ISREG(about.st_mode) || about.st_size < atoll(bytes)) return;
  char const* const folder = getenv("HELD_IN");
  if (folder && !lies_in(descriptor, folder)) return;
  char const* const reported = getenv("HELD_TOLD");
  int const reports = reported ? open(reported, O_WRONLY | O_CREAT | O_CLOEXEC, 0666) : -1;
  if (reports >= 0) close(reports);
  for (int i = 0; i < kMostMilliseconds && access(until, F_OK) != 0; ++i) usleep(1000);
}

}  // namespace

extern "C" ssize_t pread(int descriptor, void* buffer, size_t size, off_t at) {
  static auto const real = reinterpret_cast<ssize_t (*)(int, void*, size_t, off_t)>(dlsym(RTLD_NEXT, "pread"));
  wait_for_it(descriptor, size);
  return real(descriptor, buffer, size, at);
}

extern "C" ssize_t pread64(int descriptor, void* buffer, size_t size, off_t at) {
  static auto const real = reinterpret_cast<ssize_t (*)(int, void*, size_t, off_t)>(dlsym(RTLD_NEXT, "pread64"));
  wait_for_it(descriptor, size);
  return real(descriptor, buffer, size, at);
}
