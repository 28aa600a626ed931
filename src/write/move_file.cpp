#include "write/move_file.h"

#include <fcntl.h>
#include <stdio.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>
#include <limits>
#include <utility>

#include "write/output_file.h"
#include "write/sync_together.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

constexpr int kMostNames = 1000;

Error failed(fs::path const& path, std::string const& what) {
  ErrorKind const kind = errno == EACCES || errno == EPERM || errno == EROFS ? ErrorKind::cannot_create : ErrorKind::io;
  return {kind, path.string() + ": " + what + ": " + (errno == ENOSPC ? "the disk is full" : std::strerror(errno))};
}

/// Some file systems cannot sync a folder; then there is nothing to wait for.
bool cannot_sync(int error) { return error == EINVAL || error == EBADF; }

bool is_there(int folder, std::string const& name) {
  struct stat found {};
  return ::fstatat(folder, name.c_str(), &found, AT_SYMLINK_NOFOLLOW) == 0;
}

Outcome fill(int from, fs::path const& from_path, OutputFile& into) {
  std::array<std::byte, 1 << 16> buffer;
  for (off_t at = 0;;) {
    ssize_t const n = ::pread(from, buffer.data(), buffer.size(), at);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) return failed(from_path, "cannot be read");
    if (n == 0) return done();
    at += n;
    if (auto const written = into.write({buffer.data(), static_cast<std::size_t>(n)}); !written) return written;
  }
}

/// Whether both names are one file: a server that was asked twice, because its first answer was lost, says that the new name is taken (NFS).
bool are_one_file(int from, char const* from_name, int to, char const* to_name) {
  struct stat a {
  }, b{};
  return ::fstatat(from, from_name, &a, AT_SYMLINK_NOFOLLOW) == 0 && ::fstatat(to, to_name, &b, AT_SYMLINK_NOFOLLOW) == 0 && a.st_dev == b.st_dev &&
         a.st_ino == b.st_ino;
}

/// Gives the new name; 0 or errno. EXDEV where only a copy helps.
int rename_without_replacing(int from, char const* from_name, int to, char const* to_name) {
  if (::renameat2(from, from_name, to, to_name, RENAME_NOREPLACE) == 0) return 0;
  if (errno != EINVAL && errno != ENOSYS) return errno;
  // A file system without that kind of renaming: a second name, which is refused just so if it is taken; without that too, a copy.
  if (::linkat(from, from_name, to, to_name, 0) != 0) {
    int const error = errno;
    if (error != EEXIST || !are_one_file(from, from_name, to, to_name))
      return error == EPERM || error == EOPNOTSUPP || error == ENOSYS ? EXDEV : error;
  }
  return ::unlinkat(from, from_name, 0) == 0 || errno == ENOENT ? 0 : errno;
}

bool is_meant(OpenFolder const& folder, std::string const& name, FileMeant const& meant) {
  struct stat found {};
  return !meant.is_it ||
         (::fstatat(folder.descriptor(), name.c_str(), &found, AT_SYMLINK_NOFOLLOW) == 0 && S_ISREG(found.st_mode) && meant.is_it(found));
}

/// What was copied goes: taken out of sight first, so that nothing is removed that somebody put under its name meanwhile.
Result<MoveEnd> remove_copied(OpenFolder const& from, std::string const& name, FileMeant const& meant) {
  if (meant.is_it) {
    auto const aside = temporary_output_name();
    int const error = aside.empty() ? EIO : rename_without_replacing(from.descriptor(), name.c_str(), from.descriptor(), aside.c_str());
    if (error == ENOENT) return MoveEnd::moved;
    if (error == 0) {
      bool const same = is_meant(from, aside, meant);
      if (!same)
        if (auto const back = put_back(from, aside, from, name); !back) return back.error();
      if (same)
        if (auto const gone = remove_file(from, aside); !gone) return gone.error();
      return MoveEnd::moved;
    }
  }
  if (auto const gone = remove_file(from, name); !gone) return gone.error();
  return MoveEnd::moved;
}

Outcome copy_whole(int source, fs::path const& from_path, fs::path const& to_path, OutputFile& out) {
  if (auto const filled = fill(source, from_path, out); !filled) return filled;
  auto const there = digest_of(out.descriptor(), to_path), here = digest_of(source, from_path);
  if (!there || !here) return there ? here.error() : there.error();
  if (*there != *here)
    return Error{ErrorKind::io, to_path.string() + ": the copy differs from " + from_path.string() + ", which was left where it is"};
  return done();
}

/// A copy was changed when its source was.
void keep_time(OutputFile const& out, struct stat const& source) {
  timespec const times[2] = {{0, UTIME_OMIT}, source.st_mtim};
  (void)::futimens(out.descriptor(), times);
}

/// What cannot be renamed is copied; the copy is read back before its source goes.
Result<MoveEnd> copy_over(OpenFolder const& from, std::string const& from_name, OpenFolder const& to, std::string const& to_name,
                          FileMeant const& meant) {
  auto const from_path = from.path() / from_name, to_path = to.path() / to_name;
  UniqueFd source(::openat(from.descriptor(), from_name.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC));
  if (!source && errno == ELOOP && meant.is_it) return MoveEnd::exchanged;
  if (!source) return failed(from_path, "cannot be read");
  struct stat about {};
  bool const right = ::fstat(source.get(), &about) == 0 && (!meant.is_it || (S_ISREG(about.st_mode) && meant.is_it(about)));
  auto const copied = [&]() -> Outcome {
    if (!right) return done();
    if (meant.copy) {
      if (auto const named = meant.copy->rename(to_name); !named) return named;
      keep_time(*meant.copy, about);
      return meant.copy->commit();
    }
    auto out = OutputFile::create(to_path, false, {});
    if (!out) return out.error();
    if (auto const whole = copy_whole(source.get(), from_path, to_path, *out); !whole) return whole;
    keep_time(*out, about);
    return out->commit();
  }();
  source.reset();
  if (!right) return MoveEnd::exchanged;
  if (!copied) return copied.error();
  return remove_copied(from, from_name, meant);
}

Result<std::pair<OpenFolder, std::string>> taken_apart(fs::path const& path) {
  auto folder = OpenFolder::open(path.has_parent_path() ? path.parent_path() : fs::path("."));
  if (!folder) return folder.error();
  return std::pair{std::move(*folder), path.filename().native()};
}

}  // namespace

Result<OpenFolder> OpenFolder::open(fs::path const& path) {
  UniqueFd descriptor(::open(path.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (!descriptor && (errno == ENOENT || errno == ENOTDIR)) return Error{ErrorKind::no_input, path.string() + ": there is no such folder"};
  if (!descriptor) return failed(path, "the folder cannot be opened");
  return OpenFolder(std::move(descriptor), path);
}

Result<OpenFolder> OpenFolder::below(std::string const& name) const {
  UniqueFd descriptor(::openat(descriptor_.get(), name.c_str(), O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC));
  if (!descriptor) return failed(path_ / name, "the folder cannot be opened");
  return OpenFolder(std::move(descriptor), path_ / name);
}

Outcome OpenFolder::sync() const {
  if (::fsync(descriptor_.get()) != 0 && !cannot_sync(errno)) return failed(path_, "the disk does not confirm what was done in this folder");
  return done();
}

Result<MoveEnd> move_file(OpenFolder const& from, std::string const& from_name, OpenFolder const& to, std::string const& to_name,
                          FileMeant const& meant) {
  int const error = rename_without_replacing(from.descriptor(), from_name.c_str(), to.descriptor(), to_name.c_str());
  if (error == EEXIST) return MoveEnd::name_taken;
  if (error == ENOENT && !is_there(from.descriptor(), from_name)) return MoveEnd::source_gone;
  if (error == EXDEV) {
    if (is_there(to.descriptor(), to_name)) return MoveEnd::name_taken;
    return copy_over(from, from_name, to, to_name, meant);
  }
  if (error != 0) {
    errno = error;
    return failed(from.path() / from_name, "cannot be moved to " + (to.path() / to_name).string());
  }
  if (!is_meant(to, to_name, meant)) {
    auto const back = put_back(to, to_name, from, from_name);
    return back ? Result<MoveEnd>(MoveEnd::exchanged) : back.error();
  }
  if (!meant.syncs_folders) return MoveEnd::moved;
  if (auto const synced = to.sync(); !synced) return synced.error();
  if (auto const synced = from.sync(); !synced) return synced.error();
  return MoveEnd::moved;
}

Result<MoveEnd> move_file(fs::path const& from, fs::path const& to) {
  auto const a = taken_apart(from), b = taken_apart(to);
  if (!a) return a.error();
  if (!b) return b.error();
  return move_file(a->first, a->second, b->first, b->second);
}

Result<std::string> put_back(OpenFolder const& from, std::string const& from_name, OpenFolder const& to, std::string const& name) {
  fs::path const wanted = name;
  for (int attempt = 1; attempt < kMostNames; ++attempt) {
    auto const tried = attempt == 1 ? name : wanted.stem().native() + "-" + std::to_string(attempt) + wanted.extension().native();
    auto const end = move_file(from, from_name, to, tried);
    if (!end) return end.error();
    if (*end != MoveEnd::name_taken) return tried;
  }
  return Error{ErrorKind::io, (from.path() / from_name).string() + ": there is no free name for it in " + to.path().string()};
}

Outcome remove_file(OpenFolder const& folder, std::string const& name) {
  if (::unlinkat(folder.descriptor(), name.c_str(), 0) != 0) {
    if (errno == ENOENT) return done();
    return failed(folder.path() / name, "cannot be removed");
  }
  return folder.sync();
}

Outcome remove_file(fs::path const& path) {
  auto const apart = taken_apart(path);
  if (!apart) return apart.error();
  return remove_file(apart->first, apart->second);
}

Outcome sync_file(int descriptor, fs::path const& path) {
  if (::fsync(descriptor) != 0) return failed(path, "the disk does not confirm its bytes");
  return done();
}

std::vector<Outcome> sync_files(std::vector<std::pair<int, fs::path>> const& files) {
  std::vector<int> descriptors;
  for (auto const& file : files) descriptors.push_back(file.first);
  std::vector<Outcome> outcomes;
  for (int const error : sync_together(descriptors)) {
    errno = error;
    outcomes.push_back(error == 0 ? done() : failed(files[outcomes.size()].second, "the disk does not confirm its bytes"));
  }
  return outcomes;
}

Outcome sync_folders(std::vector<OpenFolder const*> const& folders) {
  std::vector<int> descriptors;
  for (auto const* folder : folders) descriptors.push_back(folder->descriptor());
  std::size_t at = 0;
  for (int const error : sync_together(descriptors)) {
    auto const& path = folders[at++]->path();
    errno = error;
    if (error != 0 && !cannot_sync(error)) return failed(path, "the disk does not confirm what was done in this folder");
  }
  return done();
}

FileDigest::FileDigest(int descriptor, fs::path path) : descriptor_(descriptor), path_(std::move(path)), sum_(std::make_unique<Sha256>()) {}

Result<std::optional<std::string>> FileDigest::go_on(long long bytes) {
  std::array<char, 1 << 16> buffer;
  for (long long const until = bytes > std::numeric_limits<long long>::max() - at_ ? std::numeric_limits<long long>::max() : at_ + bytes;
       at_ < until;) {
    ssize_t const n = ::pread(descriptor_, buffer.data(), buffer.size(), at_);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) return failed(path_, "cannot be read");
    if (n == 0) return std::optional(hexadecimal(sum_->finish()));
    sum_->add(buffer.data(), static_cast<std::size_t>(n));
    at_ += n;
  }
  return std::optional<std::string>();
}

Result<std::string> digest_of(int descriptor, fs::path const& path) {
  auto const digest = FileDigest(descriptor, path).go_on(std::numeric_limits<long long>::max());
  if (!digest) return digest.error();
  return **digest;
}

bool is_there(std::filesystem::path const& path) {
  struct stat found {};
  return ::lstat(path.c_str(), &found) == 0;
}

}  // namespace layright
