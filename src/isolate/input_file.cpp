#include "isolate/input_file.h"

#include <fcntl.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <string_view>
#include <utility>
#include <vector>

#include "base/sha256.h"
#include "base/write_all.h"

namespace layright {
namespace {

constexpr std::size_t kHeadToKnowItBy = 4096;  // convert/format.h

Error cannot(std::string const& name, std::string const& why, ErrorKind kind = ErrorKind::no_input) { return Error{kind, name + ": " + why}; }

Result<UniqueFd> spooled_standard_input() {
  UniqueFd memory(memfd_create("standard input", MFD_CLOEXEC));
  if (!memory) return cannot("standard input", std::string("cannot be kept: ") + std::strerror(errno), ErrorKind::io);
  std::array<char, 65536> buffer;
  for (;;) {
    ssize_t const n = read(STDIN_FILENO, buffer.data(), buffer.size());
    if (n == 0) return memory;
    if (n < 0 && errno == EINTR) continue;
    int const error = n < 0 ? errno : write_all(memory.get(), std::string_view(buffer.data(), static_cast<std::size_t>(n)));
    if (error != 0) return cannot("standard input", std::string("cannot be read: ") + std::strerror(error), ErrorKind::io);
  }
}

}  // namespace

std::span<std::byte const> map_whole(int descriptor) {
  struct stat about {};
  if (fstat(descriptor, &about) != 0 || about.st_size <= 0) return {};
  auto const size = static_cast<std::size_t>(about.st_size);
  void* const data = mmap(nullptr, size, PROT_READ, MAP_PRIVATE, descriptor, 0);
  if (data == MAP_FAILED) return {};
  return {static_cast<std::byte const*>(data), size};
}

void drop_cached_pages(std::span<std::byte const> mapped) {
  if (mapped.empty()) return;
  auto const page = static_cast<std::uintptr_t>(sysconf(_SC_PAGESIZE));
  auto const begin = reinterpret_cast<std::uintptr_t>(mapped.data()) & ~(page - 1),
             end = reinterpret_cast<std::uintptr_t>(mapped.data()) + mapped.size();
  madvise(reinterpret_cast<void*>(begin), end - begin, MADV_DONTNEED);
}

std::string digest_of_mapped(std::span<std::byte const> mapped) {
  constexpr std::size_t kPiece = 32u << 20;
  Sha256 hash;
  for (std::size_t at = 0; at < mapped.size(); at += kPiece) {
    auto const piece = mapped.subspan(at, std::min(kPiece, mapped.size() - at));
    hash.add(piece.data(), piece.size());
    if (mapped.size() > kPiece) drop_cached_pages(piece);
  }
  return hexadecimal(hash.finish());
}

Result<std::shared_ptr<InputFile>> InputFile::take(UniqueFd descriptor, std::filesystem::path const& path) {
  std::shared_ptr<InputFile> file(new InputFile);
  file->path_ = path;
  file->descriptor_ = std::move(descriptor);
  struct stat about {};
  if (fstat(file->descriptor_.get(), &about) != 0 || !S_ISREG(about.st_mode))
    return cannot(path.native(), S_ISDIR(about.st_mode) ? "is a folder; name a PDF file in it" : "is not a regular file; save it as a file first");
  if (about.st_size == 0) return file;
  file->size_ = static_cast<std::size_t>(about.st_size);
  void* const place = mmap(nullptr, file->size_, PROT_NONE, MAP_PRIVATE | MAP_ANONYMOUS | MAP_NORESERVE, -1, 0);
  if (place == MAP_FAILED) return cannot(path.native(), "cannot be mapped into memory", ErrorKind::io);
  file->data_ = static_cast<std::byte const*>(place);
  return file;
}

Result<std::shared_ptr<InputFile>> InputFile::open(std::filesystem::path const& path, bool follow) {
  if (path == "-") {
    auto spooled = spooled_standard_input();
    return spooled ? take(std::move(*spooled), path) : Result<std::shared_ptr<InputFile>>(spooled.error());
  }
  // Not blocking, so that a pipe without a writer cannot hold us up; it is refused below.
  UniqueFd descriptor(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY | (follow ? 0 : O_NOFOLLOW)));
  if (descriptor) return take(std::move(descriptor), path);
  if (errno == ENOENT || errno == ENOTDIR) return cannot(path.native(), "there is no such file");
  if (errno == ELOOP && !follow) return cannot(path.native(), "is a link now, and links are not followed");
  return cannot(path.native(), std::string("cannot be opened: ") + std::strerror(errno));
}

Result<std::shared_ptr<InputFile>> InputFile::of(int descriptor, std::filesystem::path const& path) {
  UniqueFd own = duplicate(descriptor);
  if (!own) return cannot(path.native(), std::string("cannot be opened: ") + std::strerror(errno), ErrorKind::io);
  return take(std::move(own), path);
}

std::vector<std::byte> InputFile::head() const {
  std::vector<std::byte> head(kHeadToKnowItBy);
  ssize_t n;
  do n = pread(descriptor_.get(), head.data(), head.size(), 0);
  while (n < 0 && errno == EINTR);
  head.resize(n > 0 ? static_cast<std::size_t>(n) : 0);
  return head;
}

bool InputFile::map_here() const {
  return size_ == 0 || mmap(const_cast<std::byte*>(data_), size_, PROT_READ, MAP_PRIVATE | MAP_FIXED, descriptor_.get(), 0) != MAP_FAILED;
}

InputFile::~InputFile() {
  if (data_) munmap(const_cast<std::byte*>(data_), size_);
}

std::string InputFile::name() const { return path_ == "-" ? "standard input" : path_.native(); }

}  // namespace layright
