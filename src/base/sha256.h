// SHA-256 (FIPS 180-4) piece by piece, by GnuTLS.
#pragma once
#include <array>
#include <cstddef>
#include <span>
#include <string>
#include <string_view>

namespace layright {

using Digest = std::array<unsigned char, 32>;

class Sha256 {
 public:
  Sha256();
  ~Sha256();
  Sha256(Sha256 const&) = delete;
  Sha256& operator=(Sha256 const&) = delete;
  void add(void const* bytes, std::size_t count);
  void add(std::string_view text) { add(text.data(), text.size()); }
  /// Ends it; nothing may be added afterwards.
  Digest finish();

 private:
  void pass_on();

  void* state_ = nullptr;
  std::array<char, 1024> waiting_;  // small pieces are gathered: a call into the library costs more than the hashing of a word
  std::size_t count_ = 0;
};

std::string hexadecimal(Digest const& digest);

/// In lower-case hexadecimal.
std::string sha256_hex(std::span<std::byte const> bytes);

}  // namespace layright
