// How many pictures are kept for what is known of them: each holds its data, and a page may be made of more than fits into memory.
#pragma once
#include <cstddef>
#include <deque>

#include "mupdf/library.h"

namespace layright {

/// Bytes of pictures that one book keeps. Our own: many small ones that a page draws again and again, few large ones.
inline constexpr std::size_t kMostHeldImages = 48u << 20;
inline constexpr unsigned kStoreLeft = 25;  // percent of what the library's store has in it

/// The keys under which pictures are kept, oldest first.
template <class Key>
class HeldImages {
 public:
  void add(fz_context* ctx, Key const& key, fz_image* image, fz_image* mask = nullptr) {
    std::size_t const bytes = fz_image_size(ctx, image) + (mask ? fz_image_size(ctx, mask) : 0);
    held_ += bytes;
    order_.push_back({key, bytes});
  }
  /// Calls `drop_cached_pages` for the oldest while all hold too much; never for the last two, which somebody may be looking at. The library's own store
  /// frees nothing while what it may free is not enough for all that is too much, so it is told to.
  template <class LetGo>
  void fit(fz_context* ctx, LetGo const& drop_cached_pages) {
    bool const full = held_ > kMostHeldImages && order_.size() > 2;
    while (held_ > kMostHeldImages && order_.size() > 2) {
      auto const oldest = order_.front();
      order_.pop_front();
      held_ -= oldest.bytes;
      drop_cached_pages(oldest.key);
    }
    if (full) fz_shrink_store(ctx, kStoreLeft);
  }
  /// Takes off what is kept no longer.
  template <class IsKept>
  void only(IsKept const& is_kept) {
    std::erase_if(order_, [&](Held const& h) {
      bool const gone = !is_kept(h.key);
      if (gone) held_ -= h.bytes;
      return gone;
    });
  }

 private:
  struct Held {
    Key key;
    std::size_t bytes;
  };
  std::deque<Held> order_;
  std::size_t held_ = 0;
};

}  // namespace layright
