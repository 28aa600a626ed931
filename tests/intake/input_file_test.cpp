// Mapped files: what is let go of is read again, and hashed the same.
#include "intake/input_file.h"

#include <catch2/catch.hpp>
#include <cstdio>
#include <unistd.h>

#include "document/document.h"

using namespace layright;

TEST_CASE("a mapped file that was let go of is still what it was") {
  std::FILE* const file = std::tmpfile();
  std::string text(40u << 20, 'a');
  for (std::size_t i = 0; i < text.size(); i += 977) text[i] = static_cast<char>(i >> 7);
  REQUIRE(std::fwrite(text.data(), 1, text.size(), file) == text.size());
  std::fflush(file);
  auto const mapped = map_whole(fileno(file));
  auto const same = [&] { return std::string_view(reinterpret_cast<char const*>(mapped.data()), mapped.size()) == text; };
  CHECK(same());
  let_go(mapped);
  let_go(mapped.subspan(5, 9000));  // a part that begins and ends within pages
  let_go({});
  CHECK(same());
  auto const bytes = std::as_bytes(std::span(text.data(), text.size()));
  CHECK(digest_of_mapped(mapped) == sha256_hex(bytes));
  CHECK(digest_of_mapped(mapped.first(1234)) == sha256_hex(bytes.first(1234)));
  CHECK(digest_of_mapped({}) == sha256_hex({}));
  std::fclose(file);
}
