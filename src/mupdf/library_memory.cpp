#include "mupdf/library_memory.h"

#include <cstdlib>

namespace layright {
namespace {

void* take(void*, std::size_t size) { return size > kMostAtOnce ? nullptr : std::malloc(size); }
void* resize(void*, void* old, std::size_t size) { return size > kMostAtOnce ? nullptr : std::realloc(old, size); }
void give_back(void*, void* old) { std::free(old); }

}  // namespace

fz_context* new_context(std::size_t store) {
  static constexpr fz_alloc_context kLimited{nullptr, take, resize, give_back};
  return fz_new_context(&kLimited, nullptr, store);
}

}  // namespace layright
