#include "write/output_file.h"

#include <fcntl.h>
#include <stdio.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <optional>
#include <string>
#include <utility>

#include "base/hex.h"
#include "base/unique_fd.h"
#include "base/write_all.h"

namespace layright {
namespace {

struct FileId {
  dev_t device;
  ino_t inode;
  bool operator==(FileId const&) const = default;
};

bool is_about_space(int error) { return error == ENOSPC || error == EDQUOT || error == EFBIG || error == EIO; }

std::string reason(int error) {
  switch (error) {
    case ENOSPC: return "the disk is full";
    case EDQUOT: return "the disk quota is used up";
    case EFBIG: return "the file would become larger than is allowed";
    case EACCES:
    case EPERM: return "writing in its folder is not permitted";
    case EROFS: return "its folder is on a disk that can only be read";
    case ENOENT: return "its folder does not exist";
    case ENOTDIR: return "what should be its folder is no folder";
    case ENAMETOOLONG: return "its name is too long";
    case ELOOP: return "its folder is a link that leads nowhere";
    case EISDIR: return "there is a folder of that name";
    case EEXIST: return "a file of that name has come meanwhile";
    default: return std::strerror(error);
  }
}

Error cannot_create(std::filesystem::path const& path, std::string const& why) {
  return {ErrorKind::cannot_create, path.string() + ": cannot be written: " + why};
}
Error failed(std::filesystem::path const& path, int error) {
  return {is_about_space(error) ? ErrorKind::io : ErrorKind::cannot_create, path.string() + ": cannot be written: " + reason(error)};
}
Error broken_off(std::filesystem::path const& path, int error) {
  return {ErrorKind::io, path.string() + ": writing it failed: " + reason(error) + "; nothing was left under that name"};
}

constexpr char const* kTemporary = ".layright-";

std::vector<FileId> identify(std::span<std::filesystem::path const> paths) {
  std::vector<FileId> ids;
  struct stat found {};
  for (auto const& path : paths)
    if (::stat(path.c_str(), &found) == 0) ids.push_back({found.st_dev, found.st_ino});
  return ids;
}

}  // namespace

std::string temporary_output_name() {
  auto const random = random_hexadecimal(12);
  return random.empty() ? std::string() : kTemporary + random;
}

struct OutputFile::State {
  std::filesystem::path path;
  std::string name;  // in its folder
  bool replace = false;
  std::vector<FileId> inputs;
  UniqueFd folder, file;
  std::string temporary;  // its name beside the target; empty while the file has no name at all
  std::string aside;      // the name of an earlier file, which waits for what becomes of this one; empty: there is none

  ~State() {
    remove_temporary();
    settle_aside();
  }
  void settle_aside() {
    if (aside.empty()) return;
    struct stat named {};
    if (::fstatat(folder.get(), name.c_str(), &named, AT_SYMLINK_NOFOLLOW) != 0) ::renameat(folder.get(), aside.c_str(), folder.get(), name.c_str());
    else ::unlinkat(folder.get(), aside.c_str(), 0);
    aside.clear();
  }
  void remove_temporary() {
    if (!temporary.empty()) ::unlinkat(folder.get(), temporary.c_str(), 0);
    temporary.clear();
  }

  /// Whether the name may be taken, as things are now.
  std::optional<Error> objection() const {
    struct stat itself {
    }, behind{};
    if (::fstatat(folder.get(), name.c_str(), &itself, AT_SYMLINK_NOFOLLOW) != 0)
      return errno == ENOENT ? std::nullopt : std::optional(failed(path, errno));
    if (::fstatat(folder.get(), name.c_str(), &behind, 0) != 0) behind = itself;  // a link to nothing
    for (auto const& input : inputs)
      if (input == FileId{behind.st_dev, behind.st_ino}) return cannot_create(path, "it is one of the files that are read; give another name");
    if (S_ISDIR(behind.st_mode)) return cannot_create(path, "there is a folder of that name");
    if (!S_ISREG(behind.st_mode) && !S_ISLNK(behind.st_mode)) return cannot_create(path, "there is something of that name that is no file");
    if (!replace) return Error{ErrorKind::cannot_create, path.string() + ": there is a file of that name; --force replaces it"};
    return std::nullopt;
  }

  /// A file without a name leaves nothing behind even if this program is killed; not all file systems can.
  bool open_temporary() {
    file = UniqueFd(::openat(folder.get(), ".", O_TMPFILE | O_RDWR | O_CLOEXEC, 0666));
    if (file && ::access(own_link().c_str(), F_OK) == 0) return true;
    for (int attempt = 0; attempt < 16; ++attempt) {
      auto const wanted = temporary_output_name();
      if (wanted.empty()) return false;
      file = UniqueFd(::openat(folder.get(), wanted.c_str(), O_CREAT | O_EXCL | O_RDWR | O_CLOEXEC | O_NOFOLLOW, 0666));
      if (file) {
        temporary = wanted;
        return true;
      }
      if (errno != EEXIST) return false;
    }
    return false;
  }
  std::string own_link() const { return "/proc/self/fd/" + std::to_string(file.get()); }

  /// Whether the name is this very file's: a server that was asked twice says that it is taken (NFS).
  bool has_name() const {
    struct stat itself {
    }, named{};
    return ::fstat(file.get(), &itself) == 0 && ::fstatat(folder.get(), name.c_str(), &named, AT_SYMLINK_NOFOLLOW) == 0 &&
           itself.st_dev == named.st_dev && itself.st_ino == named.st_ino;
  }

  /// 0, or errno.
  int give_name() {
    if (temporary.empty()) {
      auto const wanted = replace ? temporary_output_name() : name;
      if (wanted.empty() || ::linkat(AT_FDCWD, own_link().c_str(), folder.get(), wanted.c_str(), AT_SYMLINK_FOLLOW) != 0) return errno;
      if (!replace) return 0;
      temporary = wanted;
    }
    if (replace) {
      if (::renameat(folder.get(), temporary.c_str(), folder.get(), name.c_str()) != 0)
        if (int const error = errno; error != ENOENT || !has_name()) return error;
    } else if (::renameat2(folder.get(), temporary.c_str(), folder.get(), name.c_str(), RENAME_NOREPLACE) != 0) {
      if (errno != EINVAL && errno != ENOSYS) return errno;
      // A file system without that kind of renaming: a second name, which is refused just so if the name is taken.
      if (::linkat(folder.get(), temporary.c_str(), folder.get(), name.c_str(), 0) != 0)
        if (int const error = errno; error != EEXIST || !has_name()) return error;
      ::unlinkat(folder.get(), temporary.c_str(), 0);
    }
    temporary.clear();
    return 0;
  }
};

bool is_temporary_output(std::string const& name) { return name.starts_with(kTemporary); }

OutputFile::OutputFile(OutputFile&&) noexcept = default;
OutputFile& OutputFile::operator=(OutputFile&&) noexcept = default;
OutputFile::~OutputFile() = default;

Result<OutputFile> OutputFile::create(std::filesystem::path const& path, bool replace, std::span<std::filesystem::path const> inputs) {
  auto state = std::make_unique<State>();
  state->path = path;
  state->name = path.filename().string();
  state->replace = replace;
  state->inputs = identify(inputs);
  if (state->name.empty() || state->name == "." || state->name == "..") return cannot_create(path, "that is the name of a folder");
  auto const folder = path.has_parent_path() ? path.parent_path() : std::filesystem::path(".");
  state->folder = UniqueFd(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (!state->folder) return failed(path, errno);
  if (auto objection = state->objection()) return *objection;
  if (!state->open_temporary()) return failed(path, errno);
  OutputFile output;
  output.state_ = std::move(state);
  return output;
}

int OutputFile::descriptor() const { return state_->file.get(); }

Outcome OutputFile::write(std::span<std::byte const> bytes) {
  int const error = write_all(state_->file.get(), bytes);
  if (error == 0) return done();
  state_->remove_temporary();
  return broken_off(state_->path, error);
}

Outcome OutputFile::rename(std::string const& name) {
  state_->path.replace_filename(name);
  state_->name = name;
  if (auto objection = state_->objection()) return *objection;
  return done();
}

Outcome OutputFile::set_earlier_aside() {
  auto& state = *state_;
  if (auto objection = state.objection()) return *objection;
  auto const wanted = temporary_output_name();
  if (wanted.empty()) return failed(state.path, EIO);
  if (::renameat(state.folder.get(), state.name.c_str(), state.folder.get(), wanted.c_str()) != 0)
    return errno == ENOENT ? done() : Outcome(failed(state.path, errno));
  state.aside = wanted;
  // What is to appear beside it must not be there after a power cut while the earlier file is there too.
  if (::fsync(state.folder.get()) != 0 && errno != EINVAL && errno != EBADF) return failed(state.path, errno);
  return done();
}

void OutputFile::take_back() {
  struct stat itself {
  }, named{};
  bool const ours = ::fstat(state_->file.get(), &itself) == 0 &&
                    ::fstatat(state_->folder.get(), state_->name.c_str(), &named, AT_SYMLINK_NOFOLLOW) == 0 &&
                    FileId{itself.st_dev, itself.st_ino} == FileId{named.st_dev, named.st_ino};
  if (ours) ::unlinkat(state_->folder.get(), state_->name.c_str(), 0);
}

Outcome OutputFile::appear() {
  auto objection = state_->objection();
  int const error = objection ? 0 : state_->give_name();
  if (!objection && error != 0) objection = failed(state_->path, error);
  if (!objection) return done();
  state_->remove_temporary();
  return *objection;
}

Outcome OutputFile::commit() {
  if (::fsync(state_->file.get()) != 0) {
    auto const error = broken_off(state_->path, errno);
    state_->remove_temporary();
    return error;
  }
  if (auto const appeared = appear(); !appeared) return appeared;
  // The name itself must survive a power cut. Some file systems cannot sync a folder; then there is nothing to wait for.
  if (::fsync(state_->folder.get()) != 0 && errno != EINVAL && errno != EBADF)
    return Error{ErrorKind::io, state_->path.string() + ": is written, but the disk does not confirm it: " + reason(errno)};
  return done();
}

}  // namespace layright
