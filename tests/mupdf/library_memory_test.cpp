// What the library may ask for at once.
#include "mupdf/library_memory.h"

#include <catch2/catch.hpp>

using namespace layright;

TEST_CASE("the library gets no more at once than the largest picture takes") {
  fz_context* const ctx = new_context(1 << 20);
  REQUIRE(ctx);
  void* const most = fz_malloc_no_throw(ctx, kMostAtOnce);  // not touched, so it costs nothing
  CHECK(most);
  fz_free(ctx, most);
  CHECK_FALSE(fz_malloc_no_throw(ctx, kMostAtOnce + 1));
  void* const grown = fz_malloc_no_throw(ctx, 100);
  CHECK_FALSE(fz_realloc_no_throw(ctx, grown, kMostAtOnce + 1));
  fz_free(ctx, grown);
  fz_drop_context(ctx);
}
