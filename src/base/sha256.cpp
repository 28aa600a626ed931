#include "base/sha256.h"

#include <gnutls/crypto.h>

#include <cstring>
#include <new>

#include "base/hex.h"

namespace layright {

Sha256::Sha256() {
  gnutls_hash_hd_t handle = nullptr;
  if (gnutls_hash_init(&handle, GNUTLS_DIG_SHA256) != 0) throw std::bad_alloc();
  state_ = handle;
}
Sha256::~Sha256() {
  if (state_) gnutls_hash_deinit(static_cast<gnutls_hash_hd_t>(state_), nullptr);
}
void Sha256::pass_on() {
  if (count_ > 0) gnutls_hash(static_cast<gnutls_hash_hd_t>(state_), waiting_.data(), count_);
  count_ = 0;
}
void Sha256::add(void const* bytes, std::size_t count) {
  if (count_ + count > waiting_.size()) pass_on();
  if (count > waiting_.size()) {
    gnutls_hash(static_cast<gnutls_hash_hd_t>(state_), bytes, count);
  } else if (count > 0) {
    std::memcpy(waiting_.data() + count_, bytes, count);
    count_ += count;
  }
}
Digest Sha256::finish() {
  pass_on();
  Digest digest;
  gnutls_hash_deinit(static_cast<gnutls_hash_hd_t>(state_), digest.data());
  state_ = nullptr;
  return digest;
}

std::string hexadecimal(Digest const& digest) { return hexadecimal(std::as_bytes(std::span(digest))); }

std::string sha256_hex(std::span<std::byte const> bytes) {
  Digest digest{};
  gnutls_hash_fast(GNUTLS_DIG_SHA256, bytes.data(), bytes.size(), digest.data());
  return hexadecimal(digest);
}

}  // namespace layright
