#include "plate/disc.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace layright {
namespace {

constexpr double kSlack = 1e-9;  // of squares of pixels: arithmetic noise of a radius that is meant to be whole
constexpr std::uint64_t kAll = ~std::uint64_t{0};

// Told by bare pointers that nothing else leads to: the compiler takes several words at a time then.
void narrow_words(std::uint64_t* __restrict to, std::uint64_t const* here, std::size_t count, std::size_t words, unsigned bits) {
  std::uint64_t const *const left = here - words, *const right = here + words;
  if (bits == 0) {
    for (std::size_t i = 0; i < count; ++i) to[i] &= left[i] & right[i];
    return;
  }
  std::uint64_t const *const before = left - 1, *const after = right + 1;
  for (std::size_t i = 0; i < count; ++i) to[i] &= (left[i] << bits | before[i] >> (64 - bits)) & (right[i] >> bits | after[i] << (64 - bits));
}
void keep_set(std::uint64_t* __restrict to, std::uint64_t const* by, std::size_t count) {
  for (std::size_t i = 0; i < count; ++i) to[i] &= by[i];
}
void keep_set(std::uint64_t* __restrict above, std::uint64_t* __restrict below, std::uint64_t const* by, std::size_t count) {
  for (std::size_t i = 0; i < count; ++i) {
    above[i] &= by[i];
    below[i] &= by[i];
  }
}

}  // namespace

std::vector<int> disc_half_widths(double radius) {
  double const square = radius * radius + kSlack;
  std::vector<int> half_widths;
  for (double dy = 0; dy * dy <= square; ++dy) half_widths.push_back(static_cast<int>(std::floor(std::sqrt(square - dy * dy))));
  return half_widths;
}

// A picture is widened by eroding what is clear in it, to which all outside belongs. A row of an eroded picture is what is left of each row
// in reach, narrowed by half the disc's width there: each row that comes is narrowed step by step and takes its part from the rows around it.
Disc::Disc(DiscKind kind, int width, double radius, Take take)
    : kind_(kind),
      width_(width),
      half_widths_(disc_half_widths(radius)),
      held_(2 * half_widths_.size() - 1, BitRow(words_of(width), kind == DiscKind::widen ? kAll : 0)),
      padding_(static_cast<std::size_t>(half_widths_.front()) / 64 + 1),
      padded_(words_of(width) + 2 * padding_, kind == DiscKind::widen ? kAll : 0),
      narrowed_(words_of(width)),
      take_(std::move(take)) {}

/// From `from` pixels to either side to `to`.
void Disc::narrow(int from, int to) {
  for (int by = from + 1; by <= to; ++by)
    narrow_words(narrowed_.data(), padded_.data() + padding_, narrowed_.size(), static_cast<std::size_t>(by) / 64, static_cast<unsigned>(by) % 64);
}

void Disc::give(BitRow& row) {
  if (kind_ == DiscKind::widen) {
    for (auto& word : row) word = ~word;
    trim(row, width_);
  }
  take_(row);
  ++given_;
}

void Disc::row(BitSpan row) {
  int const reach = static_cast<int>(half_widths_.size()) - 1;
  std::ranges::fill(held(next_ + reach), kAll);
  for (std::size_t i = 0; i < row.size(); ++i) padded_[padding_ + i] = narrowed_[i] = kind_ == DiscKind::widen ? ~row[i] : row[i];
  int narrowed_by = 0;
  for (int away = reach; away >= 0; --away) {
    int const by = half_widths_[static_cast<std::size_t>(away)];
    narrow(std::exchange(narrowed_by, by), by);
    int const above = next_ - away, below = next_ + away;
    if (away == 0 || above < given_) keep_set(held(below).data(), narrowed_.data(), narrowed_.size());
    else keep_set(held(above).data(), held(below).data(), narrowed_.data(), narrowed_.size());
  }
  if (next_++ >= reach) give(held(given_));
}

void Disc::finish() {
  while (given_ < next_) {
    auto& row = held(given_);
    if (kind_ == DiscKind::erode) std::ranges::fill(row, 0);  // it reaches below the picture
    give(row);
  }
}

BitPicture through_disc(DiscKind kind, BitPicture const& picture, double radius) {
  BitPicture made(picture.width, picture.height);
  int y = 0;
  Disc disc(kind, picture.width, radius, [&](BitSpan row) { std::ranges::copy(row, made.row(y++).begin()); });
  for (int from = 0; from < picture.height; ++from) disc.row(picture.row(from));
  disc.finish();
  return made;
}

}  // namespace layright
