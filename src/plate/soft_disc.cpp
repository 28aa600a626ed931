#include "plate/soft_disc.h"

#include <algorithm>

#include "plate/disc.h"

namespace layright {
namespace {

/// Each becomes the lesser of itself and its like. Told by bare pointers: through a container the compiler takes bytes for what may change it.
void lower(std::uint8_t* __restrict to, std::uint8_t const* by, std::size_t count) {
  for (std::size_t i = 0; i < count; ++i) to[i] = std::min(to[i], by[i]);
}

}  // namespace

SoftDisc::SoftDisc(int width, double radius, Take take)
    : half_widths_(disc_half_widths(radius)),
      held_(2 * half_widths_.size() - 1, Row(static_cast<std::size_t>(width), 0)),
      padding_(static_cast<std::size_t>(half_widths_.front())),
      padded_(static_cast<std::size_t>(width) + 2 * padding_, 0),
      least_(static_cast<std::size_t>(width)),
      take_(std::move(take)) {}

void SoftDisc::row(std::span<std::uint8_t const> row) {
  int const reach = static_cast<int>(half_widths_.size()) - 1;
  std::ranges::fill(held(next_ + reach), 255);
  std::ranges::copy(row, padded_.begin() + static_cast<std::ptrdiff_t>(padding_));
  std::ranges::copy(row, least_.begin());
  int by = 0;
  for (int away = reach; away >= 0; --away) {
    for (int const to = half_widths_[static_cast<std::size_t>(away)]; by < to;) {
      ++by;
      auto const far = static_cast<std::size_t>(by);
      lower(least_.data(), padded_.data() + padding_ - far, least_.size());
      lower(least_.data(), padded_.data() + padding_ + far, least_.size());
    }
    for (int const at : {next_ - away, next_ + away}) {
      if (at < given_) continue;
      lower(held(at).data(), least_.data(), least_.size());
    }
  }
  if (next_++ >= reach) take_(held(given_)), ++given_;
}

void SoftDisc::finish() {
  for (; given_ < next_; ++given_) {
    std::ranges::fill(held(given_), 0);  // it reaches below the picture
    take_(held(given_));
  }
}

}  // namespace layright
