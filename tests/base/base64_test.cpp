#include "base/base64.h"

#include <catch2/catch.hpp>
#include <string>

using namespace layright;

namespace {

std::string encoded(std::string_view text) { return to_base64(std::as_bytes(std::span(text))); }
std::optional<std::string> decoded(std::string_view text) {
  auto const bytes = from_base64(text);
  if (!bytes) return std::nullopt;
  return std::string(reinterpret_cast<char const*>(bytes->data()), bytes->size());
}

}  // namespace

// The table is RFC 4648, section 10.
TEST_CASE("the standard's test vectors, both ways", "[base64]") {
  auto const [plain, letters] = GENERATE(table<std::string, std::string>(
      {{"", ""}, {"f", "Zg=="}, {"fo", "Zm8="}, {"foo", "Zm9v"}, {"foob", "Zm9vYg=="}, {"fooba", "Zm9vYmE="}, {"foobar", "Zm9vYmFy"}}));
  CHECK(encoded(plain) == letters);
  CHECK(decoded(letters) == plain);
}

TEST_CASE("every byte comes back, at lengths around a piece", "[base64]") {
  std::string all;
  for (int i = 0; i < 256; ++i) all += static_cast<char>(i);
  CHECK(decoded(encoded(all)) == all);
  CHECK(decoded("+/+/") == std::string("\xFB\xFF\xBF"));
  for (std::size_t const size : {49151, 49152, 49153, 98304, 200001}) {
    std::string text;
    while (text.size() < size) text += all.substr(0, std::min(all.size(), size - text.size()));
    auto const letters = encoded(text);
    CHECK(letters.find_first_of(" \r\n") == std::string::npos);
    CHECK(decoded(letters) == text);
  }
}

TEST_CASE("what files carry is taken, what is no Base64 is not", "[base64]") {
  CHECK(decoded(" Zm9v\r\n\tYmFy ") == "foobar");
  CHECK(decoded("Zg") == "f");  // without its end
  CHECK(decoded("Zm8") == "fo");
  CHECK(decoded("Zh==") == "f");  // bits left over that are not zero
  CHECK(decoded("Zm9vY") == "foo");
  CHECK(decoded("=") == "");
  for (char const* wrong : {"Zm9v!", "Zm-v", "Zm_v", "Zg==Zg==", "Zg==x", "Zm9v\x0bYmFy", "Zm9v\xC3\xA9", "-----"})
    CHECK(decoded(wrong) == std::nullopt);
}
