// A package with files in it (ZIP): which of them are art, unpacked into one nameless file, within limits that no bomb gets past.
#pragma once
#include <cstdint>
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "convert/original_file.h"

namespace layright {

/// What the package's own list says of a file in it. Nothing of it is believed before the file is unpacked.
struct PackedFile {
  std::string name;                    // any bytes; never opened, made or followed, only shown
  std::uint64_t size = 0, packed = 0;  // bytes
  bool locked = false;                 // it needs a password
};

/// What a module of the program offers to read packages with (module.h).
class PackageReader {
 public:
  virtual ~PackageReader() = default;
  virtual std::uint64_t count() const = 0;
  /// Error (data) where the list is broken.
  virtual Result<PackedFile> file(std::uint64_t index) const = 0;
  /// Gives `take` what it unpacks to, piece by piece, until that has had enough. Errors: data (damaged, not what the list says), usage (packed in
  /// a way that is not taken).
  virtual Outcome read(std::uint64_t index, std::function<bool(std::span<std::byte const>)> const& take) = 0;
};
/// Errors: data (cut short, damaged), usage (one part of several), hold (memory).
using OpenPackage = void (*)(std::span<std::byte const> bytes, std::unique_ptr<PackageReader>& reader, Outcome& outcome);

struct PackageLimits {
  double most_files = 0, most_bytes = 0;  // of all together
};

/// A file of a format that is taken, as it lies in what was unpacked.
struct PackageMember {
  std::string name;
  std::uint64_t offset = 0, size = 0;
};

struct Package {
  std::vector<PackageMember> members;   // in the order of their names, numbers in them by their value
  std::vector<ConversionNote> remarks;  // of the others: what is no art, and what is held, each by its name
};

/// Looks at `package_bytes` bytes of a package through `reader`; what is taken is written to `descriptor`. Errors: hold (too many, too large: a
/// bomb), data (files that lie over each other), usage (it is another program's own file), io.
Result<Package> unpack_package(PackageReader& reader, std::size_t package_bytes, PackageLimits const& limits, int descriptor,
                               std::function<void()> const& alive);

/// A name as findings begin with it: cut where it is too long to be read.
std::string named(std::string_view name);
/// "2.png" comes before "10.png".
bool before_by_name(std::string_view a, std::string_view b);

}  // namespace layright
