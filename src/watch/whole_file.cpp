#include "watch/whole_file.h"

#include <fcntl.h>
#include <linux/capability.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <system_error>

namespace layright {
namespace {

namespace fs = std::filesystem;

constexpr off_t kEnd = 1024;  // how many last bytes may hold the trailer: common practice of readers, from memory

std::string piece(int descriptor, off_t from) {
  std::string bytes(kEnd, '\0');
  ssize_t const n = ::pread(descriptor, bytes.data(), bytes.size(), from);
  bytes.resize(static_cast<std::size_t>(std::max<ssize_t>(n, 0)));
  return bytes;
}

bool opened_for_writing(fs::path const& process, std::string const& descriptor) {
  std::ifstream reported(process / "fdinfo" / descriptor);
  for (std::string line; std::getline(reported, line);)
    if (line.starts_with("flags:")) return (std::strtol(line.c_str() + 6, nullptr, 8) & O_ACCMODE) != O_RDONLY;
  return false;
}

/// Processes of others keep what they have open to themselves.
bool own_process_writes(int descriptor) {
  struct stat wanted {
  }, about{};
  if (::fstat(descriptor, &wanted) != 0) return false;
  std::error_code error;
  for (fs::directory_iterator process("/proc", error), end; !error && process != end; process.increment(error)) {
    if (process->path().filename().native().find_first_not_of("0123456789") != std::string::npos) continue;
    std::error_code closed;
    for (fs::directory_iterator open(process->path() / "fd", closed), last; !closed && open != last; open.increment(closed))
      if (::stat(open->path().c_str(), &about) == 0 && about.st_dev == wanted.st_dev && about.st_ino == wanted.st_ino &&
          opened_for_writing(process->path(), open->path().filename().native()))
        return true;
  }
  return false;
}

}  // namespace

Writers writers_of(int descriptor) {
  // A lease for reading is given only while nobody has the file open for writing.
  if (::fcntl(descriptor, F_SETLEASE, F_RDLCK) == 0) {
    ::fcntl(descriptor, F_SETLEASE, F_UNLCK);
    return Writers::none;
  }
  if (errno == EAGAIN) return Writers::some;
  // What is left to look at: the processes of this user.
  return own_process_writes(descriptor) ? Writers::some : Writers::unknown;
}

bool may_ask_for_writers() {
  __user_cap_header_struct head{_LINUX_CAPABILITY_VERSION_3, 0};
  __user_cap_data_struct sets[2] = {};
  return ::syscall(SYS_capget, &head, sets) == 0 && (sets[0].effective & (1u << CAP_LEASE)) != 0;
}

bool has_pdf_trailer(int descriptor, off_t size) {
  auto const head = piece(descriptor, 0);
  if (head.find("%PDF-") == std::string::npos) return false;
  if (auto const linear = head.find("/Linearized"); linear != std::string::npos) {
    auto const length = head.find("/L ", linear);
    if (length == std::string::npos || std::atoll(head.c_str() + length + 3) != size) return false;
  }
  auto const end = piece(descriptor, std::max<off_t>(0, size - kEnd));
  auto const mark = end.rfind("%%EOF");
  return mark != std::string::npos && end.rfind("startxref", mark) != std::string::npos;
}

}  // namespace layright
