#include "desk/password_module/entry.h"

#include <crypt.h>

#include <cstring>
#include <memory>
#include <string_view>

namespace layright {
namespace {

/// Empty where the setting is none that the library takes, or the password is too long for it.
std::string hash_by(std::string const& password, std::string const& setting) {
  if (password.size() >= CRYPT_MAX_PASSPHRASE_SIZE || password.find('\0') != std::string::npos) return {};
  auto const room = std::make_unique<crypt_data>();
  char const* const made = crypt_rn(password.c_str(), setting.c_str(), room.get(), sizeof *room);
  std::string hash = made ? made : "";
  explicit_bzero(room.get(), sizeof *room);
  return hash;
}

bool same_bytes(std::string_view a, std::string_view b) {
  if (a.size() != b.size()) return false;
  unsigned char differs = 0;
  for (std::size_t i = 0; i < a.size(); ++i) differs = static_cast<unsigned char>(differs | (a[i] ^ b[i]));
  return differs == 0;
}

}  // namespace
}  // namespace layright

/// yescrypt with the library's own cost, the one that Debian takes for its users: crypt(5).
extern "C" __attribute__((visibility("default"))) bool layright_hash(std::string const& password, std::string& hash) {
  char setting[CRYPT_GENSALT_OUTPUT_SIZE];
  if (!crypt_gensalt_rn("$y$", 0, nullptr, 0, setting, sizeof setting)) return false;
  hash = layright::hash_by(password, setting);
  return !hash.empty();
}

extern "C" __attribute__((visibility("default"))) bool layright_match(std::string const& password, std::string const& hash) {
  auto const made = layright::hash_by(password, hash);
  return !made.empty() && layright::same_bytes(made, hash);
}
