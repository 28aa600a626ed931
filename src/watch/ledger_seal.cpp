#include "watch/ledger_seal.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>

#include "base/hex.h"

namespace layright {
namespace {

// SQLite's file format, 1.3: bytes 0 to 17 are its name and the size of its pages, 68 to 71 say whose it is.
constexpr std::size_t kHeader = 100, kUnchanging = 18, kWhose = 68;

std::string bytes_at(int file, long long at, std::size_t count) {
  std::string bytes(count, '\0');
  ssize_t const n = pread(file, bytes.data(), count, at);
  bytes.resize(static_cast<std::size_t>(std::max<ssize_t>(n, 0)));
  return bytes;
}

std::string unchanging(std::string const& header) {
  return header.size() < kHeader ? std::string() : header.substr(0, kUnchanging) + header.substr(kWhose, 4);
}

bool is_under(int file, std::string const& path) {
  struct stat open {
  }, named{};
  return fstat(file, &open) == 0 && lstat(path.c_str(), &named) == 0 && open.st_dev == named.st_dev && open.st_ino == named.st_ino;
}

}  // namespace

Result<LedgerSeal> LedgerSeal::set(Ledger& ledger) {
  LedgerSeal seal;
  seal.path_ = ledger.path();
  seal.mark_ = random_hexadecimal(32);
  if (auto const written = ledger.mark_watcher(seal.mark_); !written) return written.error();
  seal.file_.reset(open(seal.path_.c_str(), O_RDONLY | O_CLOEXEC | O_NOFOLLOW));
  if (!seal.file_) seal.file_.reset(open(seal.path_.c_str(), O_RDONLY | O_CLOEXEC));
  if (!seal.file_) return Error{ErrorKind::io, seal.path_.string() + ": the ledger cannot be looked at: " + std::strerror(errno)};
  seal.log_.reset(open((seal.path_.native() + "-wal").c_str(), O_RDONLY | O_CLOEXEC));
  seal.header_ = unchanging(bytes_at(seal.file_.get(), 0, kHeader));
  seal.find_mark();
  struct stat about {};
  if (fstat(seal.file_.get(), &about) == 0) seal.size_ = about.st_size;
  return seal;
}

/// It lies where SQLite has put it, and stays there: nothing else is ever written to its page.
bool LedgerSeal::find_mark() {
  constexpr std::size_t kSearchPiece = 1u << 20;
  for (long long at = 0;; at += static_cast<long long>(kSearchPiece)) {
    auto const piece = bytes_at(file_.get(), at, kSearchPiece + mark_.size());
    if (auto const found = piece.find(mark_); found != std::string::npos) return place_ = at + static_cast<long long>(found), true;
    if (piece.size() < kSearchPiece) return false;
  }
}

std::optional<std::string> LedgerSeal::broken() {
  struct stat about {
  }, named{};
  if (stat(path_.c_str(), &named) != 0 || fstat(file_.get(), &about) != 0) return "was deleted, or moved away";
  if (named.st_dev != about.st_dev || named.st_ino != about.st_ino) return "was replaced by another file";
  if (about.st_size < size_ || unchanging(bytes_at(file_.get(), 0, kHeader)) != header_) return "was overwritten";
  if (place_ >= 0 && bytes_at(file_.get(), place_, mark_.size()) != mark_) return "was overwritten";
  size_ = about.st_size;
  if (log_ && !is_under(log_.get(), path_.native() + "-wal"))
    return "has lost its newest part (the file of that name with -wal at its end), which was deleted or replaced";
  return std::nullopt;
}

}  // namespace layright
