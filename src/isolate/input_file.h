// Opens what the person named: a regular file, or standard input. Never a pipe, a device or a folder. Customers' files can become shorter under
// our hands, and whoever looks at a part of a mapping that is not there any more dies of it: only children map them.
#pragma once
#include <cstddef>
#include <filesystem>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "base/unique_fd.h"

namespace layright {

class InputFile {
 public:
  /// "-" is standard input, taken whole into memory that no name leads to. Without `follow` a link is none. Errors: no_input (66) when there
  /// is no such file, it may not be read, or it is a link, a folder or a device; io (74) when reading it failed.
  static Result<std::shared_ptr<InputFile>> open(std::filesystem::path const& path, bool follow = true);
  /// One that is open already; the descriptor stays the caller's.
  static Result<std::shared_ptr<InputFile>> of(int descriptor, std::filesystem::path const& path);
  ~InputFile();
  InputFile(InputFile const&) = delete;
  InputFile& operator=(InputFile const&) = delete;

  /// Where its bytes are in a child that has mapped it, read-only; empty for an empty file. In the parent the place is kept free, and looking
  /// at it is death.
  std::span<std::byte const> bytes() const { return {data_, size_}; }
  /// Its beginning, as far as it is there now, for the parent to know what it is.
  std::vector<std::byte> head() const;
  /// In a child: maps it. False when that fails.
  bool map_here() const;
  std::filesystem::path const& path() const { return path_; }
  std::string name() const;  // for messages: the path, or "standard input"

 private:
  InputFile() = default;
  static Result<std::shared_ptr<InputFile>> take(UniqueFd descriptor, std::filesystem::path const& path);
  std::filesystem::path path_;
  UniqueFd descriptor_;
  std::byte const* data_ = nullptr;
  std::size_t size_ = 0;
};

/// Maps `descriptor` read-only; empty when that fails.
std::span<std::byte const> map_whole(int descriptor);

/// Takes what was read of `mapped` (from map_whole, or a part of that) out of this process's memory; whoever looks at it again reads it again.
/// Never for other memory, which would be lost.
void drop_cached_pages(std::span<std::byte const> mapped);

/// Its SHA-256 in lower-case hexadecimal, let go of as it is read where it is large.
std::string digest_of_mapped(std::span<std::byte const> mapped);

}  // namespace layright
