// A disk on which large files cannot be read yet: loaded before the program, this lets no piece of a file of HELD_BYTES or more be read before the
// path HELD_UNTIL is there, other than the first few bytes by which its kind is known. Whoever reads one where other work waits does not get to that
// work.
#include <dlfcn.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

namespace {

constexpr size_t kHead = 4096;

void wait_for_it(int descriptor, size_t size) {
  char const* const bytes = getenv("HELD_BYTES");
  char const* const until = getenv("HELD_UNTIL");
  struct stat about {};
  if (!bytes || !until || size <= kHead || fstat(descriptor, &about) != 0 || !S_ISREG(about.st_mode) || about.st_size < atoll(bytes)) return;
  for (int i = 0; i < 20000 && access(until, F_OK) != 0; ++i) usleep(1000);
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
