// Where the library's errors end that only mean that there is nothing.
#pragma once
#include "mupdf/library.h"

namespace layright {

/// What `work` gives, or `otherwise` where the library fails in it. An error jumps over `work`: nothing in it has a destructor.
template <class T, class Work>
[[gnu::noinline]] T tried(fz_context* ctx, T otherwise, Work const& work) {
  T found = otherwise;
  fz_var(found);
  fz_try(ctx) found = work();
  fz_catch(ctx) return otherwise;
  return found;
}

}  // namespace layright
