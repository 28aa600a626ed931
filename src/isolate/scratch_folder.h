// A folder for the scratch files of a program that is run for us. What a death leaves behind is removed at the next start of any command.
#pragma once
#include <filesystem>
#include <string>

namespace layright {

class ScratchFolder {
 public:
  /// In the folder for temporary files. Where none can be made, ok() is false and errno says why.
  ScratchFolder();
  ~ScratchFolder();  // removes it with all that is in it
  ScratchFolder(ScratchFolder const&) = delete;
  ScratchFolder& operator=(ScratchFolder const&) = delete;
  bool ok() const { return lock_ >= 0; }
  std::string const& path() const { return path_; }
  int descriptor() const { return lock_; }
  /// Bytes on the disk of all that is in it.
  std::size_t bytes() const;

 private:
  std::string path_;
  int lock_ = -1;  // the folder itself, locked as long as this process lives
};

/// Removes scratch folders of this user that no process works in any more.
void remove_left_scratch();

}  // namespace layright
