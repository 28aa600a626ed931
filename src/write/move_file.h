// Moves and removes files so that neither a death of this program nor a power cut loses or doubles one. Together with output_file the only
// place that changes folders.
#pragma once
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/result.h"
#include "base/sha256.h"
#include "base/unique_fd.h"

struct stat;

namespace layright {

class OutputFile;

/// An open folder: names below it count from the folder itself, whatever is put under its path meanwhile.
class OpenFolder {
 public:
  /// Errors: no_input when there is no such folder, io.
  static Result<OpenFolder> open(std::filesystem::path const& path);
  /// A folder in this one; a link is none.
  Result<OpenFolder> below(std::string const& name) const;

  int descriptor() const { return descriptor_.get(); }
  std::filesystem::path const& path() const { return path_; }
  /// What was done in it is on the disk when this returns.
  Outcome sync() const;

 private:
  OpenFolder(UniqueFd descriptor, std::filesystem::path path) : descriptor_(std::move(descriptor)), path_(std::move(path)) {}
  UniqueFd descriptor_;
  std::filesystem::path path_;
};

enum class MoveEnd { moved, name_taken, source_gone, exchanged };

/// What a mover knows of the file that it means.
struct FileMeant {
  /// Whether what lies under the name is that very file. What was moved is looked at afterwards, since anybody could have put something
  /// else there in between: then it goes back (MoveEnd::exchanged). Empty: whatever lies there is meant.
  std::function<bool(struct stat const&)> is_it = {};
  /// A copy of it, whole and proved, in the folder that it goes to, without a name yet: for a move to another disk.
  OutputFile* copy = nullptr;
  /// Whoever moves several syncs the folders himself, the receiving ones first.
  bool syncs_folders = true;
};

/// Gives a file of `from` the name `to_name` in `to`, unless something has that name. On another disk it is copied, read back, and only then
/// removed. Both folders are synced, the receiving one first. Errors: io (also a full disk), cannot_create.
Result<MoveEnd> move_file(OpenFolder const& from, std::string const& from_name, OpenFolder const& to, std::string const& to_name,
                          FileMeant const& meant = {});
/// The same by paths.
Result<MoveEnd> move_file(std::filesystem::path const& from, std::filesystem::path const& to);

/// Gives back its name to what is no longer wanted where it is, or another one where that is taken: `name`, `name-2` and so on. The name that it has
/// got. Errors as move_file's.
Result<std::string> put_back(OpenFolder const& from, std::string const& from_name, OpenFolder const& to, std::string const& name);

/// The file is gone, and its folder synced, when this returns; one that was not there is none to complain of.
Outcome remove_file(OpenFolder const& folder, std::string const& name);
Outcome remove_file(std::filesystem::path const& path);

/// What was written to the file is on the disk when this returns.
Outcome sync_file(int descriptor, std::filesystem::path const& path);
/// The same for several at once: of each an outcome.
std::vector<Outcome> sync_files(std::vector<std::pair<int, std::filesystem::path>> const& files);
/// OpenFolder::sync for several at once; the first error.
Outcome sync_folders(std::vector<OpenFolder const*> const& folders);

/// SHA-256 of a file, piece by piece: for one that has other things to do meanwhile.
class FileDigest {
 public:
  /// Of what the descriptor reads from its beginning; its place is not moved, and it is not closed.
  FileDigest(int descriptor, std::filesystem::path path);
  /// Reads up to `bytes` more. The digest when the file is at its end, nothing before; not to be called again after that. Error: io.
  Result<std::optional<std::string>> go_on(long long bytes);

 private:
  int descriptor_;
  std::filesystem::path path_;
  long long at_ = 0;
  std::unique_ptr<Sha256> sum_;
};

/// The same at once.
Result<std::string> digest_of(int descriptor, std::filesystem::path const& path);

/// Whether something has that name, also a link that leads nowhere.
bool is_there(std::filesystem::path const& path);

}  // namespace layright
