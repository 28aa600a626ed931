// An output appears under its name only when it is whole: a temporary beside it, fsync, one rename, fsync of the folder.
#pragma once
#include <filesystem>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"

namespace layright {

class OutputFile {
 public:
  /// Makes the temporary. Errors: cannot_create (73) when the folder is missing or read-only, the name is a folder or a device, exists and
  /// `replace` is false, or is one of `inputs` (also through a link, hard or symbolic).
  static Result<OutputFile> create(std::filesystem::path const& path, bool replace, std::span<std::filesystem::path const> inputs);
  OutputFile(OutputFile&&) noexcept;
  OutputFile& operator=(OutputFile&&) noexcept;
  /// Removes the temporary if it was not committed.
  ~OutputFile();

  int descriptor() const;  // open for reading and writing
  /// Another name in the same folder, before commit(). Errors as create's.
  Outcome rename(std::string const& name);
  /// Errors: io (74); nothing is left behind then.
  Outcome write(std::span<std::byte const> bytes);
  /// Makes it appear. Errors: io (74), cannot_create when a file of that name came meanwhile and `replace` is false.
  Outcome commit();
  /// Makes it appear, for one who brings several to the disk at once: its bytes are synced before, its folder after it. Errors as commit's.
  Outcome appear();
  /// For files that appear together: takes the name from an earlier file, before commit(). It gets its name again if nothing takes it, and is
  /// gone otherwise, once this is no more. Errors as commit's.
  Outcome set_earlier_aside();
  /// Takes its name away again, after commit(): what was to appear beside it could not. What was replaced is gone unless it was set aside.
  void take_back();

 private:
  OutputFile() = default;
  struct State;
  std::unique_ptr<State> state_;
};

/// A name beside others in a folder that nobody can foresee, of the kind of is_temporary_output(). Empty where there is no chance to be had.
std::string temporary_output_name();

/// Whether a name is one that an output has before it is whole, where the file system has no files without names. One that is left behind by
/// a process that was killed is of no use to anybody.
bool is_temporary_output(std::string const& name);

}  // namespace layright
