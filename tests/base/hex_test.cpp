#include "base/hex.h"

#include <catch2/catch.hpp>
#include <string>

#include "base/sha256.h"

using namespace layright;

TEST_CASE("bytes become two digits each", "[hex]") {
  CHECK(hexadecimal("") == "");
  CHECK(hexadecimal(std::string("\x00\x01\x9a\xff", 4)) == "00019aff");
  CHECK(hexadecimal(std::string("\x00\x9a\xff", 3), HexDigits::capital) == "009AFF");
}

TEST_CASE("random digits differ from call to call", "[hex]") {
  auto const first = random_hexadecimal(12), second = random_hexadecimal(12);
  CHECK(first.size() == 24);
  CHECK(first.find_first_not_of("0123456789abcdef") == std::string::npos);
  CHECK(first != second);  // alike once in 2^96
}

// FIPS 180-4's published example, "abc".
TEST_CASE("SHA-256 of one block, at once and piece by piece", "[sha256]") {
  constexpr char const* kAbc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
  CHECK(sha256_hex(std::as_bytes(std::span("abc", 3))) == kAbc);
  Sha256 hash;
  hash.add("a");
  hash.add("bc");
  CHECK(hexadecimal(hash.finish()) == kAbc);
}

TEST_CASE("SHA-256 of many pieces is that of the whole", "[sha256]") {
  std::string const text(5000, 'x');
  for (std::size_t const piece : {1, 63, 64, 1023, 1024, 1025, 4999}) {
    Sha256 hash;
    for (std::size_t at = 0; at < text.size(); at += piece) hash.add(std::string_view(text).substr(at, piece));
    CHECK(hexadecimal(hash.finish()) == sha256_hex(std::as_bytes(std::span(text))));
  }
}
