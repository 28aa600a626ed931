#include "intake/whole_file.h"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <string>

namespace layright {
namespace {

constexpr off_t kEnd = 1024;  // how many last bytes may hold the trailer: common practice of readers, from memory

std::string piece(int descriptor, off_t from) {
  std::string bytes(kEnd, '\0');
  ssize_t const n = ::pread(descriptor, bytes.data(), bytes.size(), from);
  bytes.resize(static_cast<std::size_t>(std::max<ssize_t>(n, 0)));
  return bytes;
}

}  // namespace

bool has_writer(int descriptor) {
  // A lease for reading is given only while nobody has the file open for writing.
  if (::fcntl(descriptor, F_SETLEASE, F_RDLCK) != 0) return errno == EAGAIN;
  ::fcntl(descriptor, F_SETLEASE, F_UNLCK);
  return false;
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
