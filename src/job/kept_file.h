// Bytes of a file of our own, kept when its descriptor is closed: many of them take no descriptors.
#pragma once
#include <cstddef>
#include <memory>
#include <span>

namespace layright {

class KeptFile {
 public:
  /// Maps what `descriptor` reads, which must not become shorter: only for files that nobody else can write. Null where that fails, or there is
  /// nothing in it.
  static std::shared_ptr<KeptFile const> of(int descriptor);
  ~KeptFile();
  KeptFile(KeptFile const&) = delete;
  KeptFile& operator=(KeptFile const&) = delete;
  std::span<std::byte const> bytes() const { return bytes_; }

 private:
  explicit KeptFile(std::span<std::byte const> bytes) : bytes_(bytes) {}
  std::span<std::byte const> bytes_;
};

}  // namespace layright
