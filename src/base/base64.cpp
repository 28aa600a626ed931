#include "base/base64.h"

#include <gnutls/gnutls.h>

#include <new>

namespace layright {
namespace {

constexpr std::size_t kPiece = 1u << 16;  // letters; a multiple of four

gnutls_datum_t datum(void const* bytes, std::size_t size) {
  return {static_cast<unsigned char*>(const_cast<void*>(bytes)), static_cast<unsigned>(size)};
}

/// `letters`: fours of them and nothing else.
bool decode(std::string const& letters, std::vector<std::byte>& out) {
  if (letters.empty()) return true;
  auto const text = datum(letters.data(), letters.size());
  gnutls_datum_t bytes{};
  if (gnutls_base64_decode2(&text, &bytes) != 0) return false;
  bool const whole = bytes.size == letters.size() / 4 * 3;
  auto const* const first = reinterpret_cast<std::byte const*>(bytes.data);
  out.insert(out.end(), first, first + bytes.size);
  gnutls_free(bytes.data);
  return whole;
}

}  // namespace

std::string to_base64(std::span<std::byte const> bytes) {
  if (bytes.empty()) return {};
  auto const data = datum(bytes.data(), bytes.size());
  gnutls_datum_t text{};
  if (gnutls_base64_encode2(&data, &text) != 0) throw std::bad_alloc();
  std::string out(reinterpret_cast<char const*>(text.data), text.size);
  gnutls_free(text.data);
  return out;
}

std::optional<std::vector<std::byte>> from_base64(std::string_view text) {
  std::vector<std::byte> out;
  std::string letters;
  bool ended = false;
  for (char const c : text) {
    if (c == ' ' || c == '\t' || c == '\r' || c == '\n') continue;
    if (c == '=') {
      ended = true;
      continue;
    }
    if (ended || c == '-') return std::nullopt;  // which the library takes for the end of a block
    letters += c;
    if (letters.size() < kPiece) continue;
    if (!decode(letters, out)) return std::nullopt;
    letters.clear();
  }
  // Zeros in the place of what lacks, so that it need not be said where it ends.
  std::size_t const lacking = (4 - letters.size() % 4) % 4;
  letters.append(lacking, 'A');
  if (!decode(letters, out)) return std::nullopt;
  out.resize(out.size() - lacking);
  return out;
}

}  // namespace layright
