// A stream that tells how far it was read: the same bytes as those in memory, wherever it is asked for them.
#include "mupdf/read_on_stream.h"

#include <catch2/catch.hpp>

#include <random>

using namespace layright;

TEST_CASE("bytes are read alike window after window, and the listener hears of it now and then") {
  fz_context* const ctx = fz_new_context(nullptr, nullptr, FZ_STORE_DEFAULT);
  std::vector<unsigned char> bytes(70u << 20);
  for (std::size_t i = 0; i < bytes.size(); ++i) bytes[i] = static_cast<unsigned char>((i * 2654435761u) >> 13);
  int reported = 0;
  fz_stream* const stream = read_on_stream(ctx, bytes, [&] { ++reported; });
  REQUIRE(stream);
  std::vector<unsigned char> piece(300'000);
  std::size_t at = 0;
  bool same = true;
  for (std::size_t got = 0; (got = fz_read(ctx, stream, piece.data(), piece.size())) > 0; at += got)
    same = same && std::equal(piece.begin(), piece.begin() + static_cast<std::ptrdiff_t>(got), bytes.begin() + static_cast<std::ptrdiff_t>(at));
  CHECK(same);
  CHECK(at == bytes.size());
  CHECK(reported == 2);
  CHECK(fz_read_byte(ctx, stream) == EOF);
  std::mt19937 random(3);
  for (int i = 0; i < 2000; ++i) {
    auto const to = static_cast<std::int64_t>(random() % bytes.size());
    fz_seek(ctx, stream, to, SEEK_SET);
    CHECK(fz_tell(ctx, stream) == to);
    REQUIRE(fz_read_byte(ctx, stream) == bytes[static_cast<std::size_t>(to)]);
    CHECK(fz_tell(ctx, stream) == to + 1);
    if (to + 10 < static_cast<std::int64_t>(bytes.size())) {
      fz_seek(ctx, stream, 5, SEEK_CUR);
      REQUIRE(fz_read_byte(ctx, stream) == bytes[static_cast<std::size_t>(to) + 6]);
    }
  }
  fz_seek(ctx, stream, -1, SEEK_END);
  CHECK(fz_read_byte(ctx, stream) == bytes.back());
  fz_drop_stream(ctx, stream);
  fz_drop_context(ctx);
}
