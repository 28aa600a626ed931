// A folder for the scratch files of a program that is run for us. What a death leaves behind is removed at the next start of any command.
#pragma once
#include <filesystem>
#include <string>

#include "base/unique_fd.h"

namespace layright {

class ScratchFolder {
 public:
  /// In the folder for temporary files. Where none can be made, ok() is false and errno says why.
  ScratchFolder();
  ~ScratchFolder();  // removes it with all that is in it
  ScratchFolder(ScratchFolder const&) = delete;
  ScratchFolder& operator=(ScratchFolder const&) = delete;
  bool ok() const { return static_cast<bool>(lock_); }
  std::string const& path() const { return path_; }
  int descriptor() const { return lock_.get(); }
  /// Bytes on the disk of all that is in it.
  std::size_t bytes() const;

 private:
  std::string path_;
  UniqueFd lock_;  // the folder itself, locked as long as this process lives
};

/// Removes scratch folders of this user that no process works in any more.
void remove_left_scratch();

}  // namespace layright
