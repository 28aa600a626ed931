#include "plate/packed_plate.h"

#include <zlib.h>

#include <algorithm>
#include <array>
#include <bit>
#include <new>
#include <numeric>

#include "mupdf/library.h"

namespace layright {
namespace {

constexpr std::size_t kPiece = std::size_t{1} << 16;
constexpr int kSoftLevel = 3;  // of zlib: a page in bytes is long, and mostly all white or clear

constexpr std::uint8_t turned(std::uint8_t bits) {
  std::uint8_t made = 0;
  for (int i = 0; i < 8; ++i) made = static_cast<std::uint8_t>(made << 1 | (bits >> i & 1));
  return made;
}
constexpr auto kTurned = [] {
  std::array<std::uint8_t, 256> all{};
  for (unsigned i = 0; i < 256; ++i) all[i] = turned(static_cast<std::uint8_t>(i));
  return all;
}();

/// Empty where the library fails.
std::string as_fax(fz_context* c, std::vector<std::uint8_t> const& bytes, int columns, int rows) {
  fz_buffer* packed = nullptr;
  fz_var(packed);
  fz_try(c) packed = fz_compress_ccitt_fax_g4(c, bytes.data(), columns, rows);
  fz_catch(c) return {};
  unsigned char* data = nullptr;
  std::size_t const size = fz_buffer_storage(c, packed, &data);
  std::string made;
  try {
    made.assign(reinterpret_cast<char const*>(data), size);
  } catch (std::bad_alloc const&) {
    fz_drop_buffer(c, packed);
    throw;
  }
  fz_drop_buffer(c, packed);
  return made;
}

}  // namespace

struct SoftPlatePacker::Stream {
  z_stream zlib{};
  std::string packed;
  explicit Stream(int level) {
    if (deflateInit(&zlib, level) != Z_OK) throw std::bad_alloc();
  }
  ~Stream() { deflateEnd(&zlib); }
  Stream(Stream const&) = delete;
  Stream& operator=(Stream const&) = delete;
  void add(std::span<std::uint8_t const> bytes, int flush) {
    zlib.next_in = const_cast<Bytef*>(bytes.data());
    zlib.avail_in = static_cast<uInt>(bytes.size());
    std::array<Bytef, kPiece> piece;
    do {
      zlib.next_out = piece.data();
      zlib.avail_out = piece.size();
      deflate(&zlib, flush);
      packed.append(reinterpret_cast<char const*>(piece.data()), piece.size() - zlib.avail_out);
    } while (zlib.avail_out == 0);
  }
};

namespace {

/// Empty where it does not come out below `limit` bytes; it is given up as soon as that is known, which for line art is soon.
std::string as_flate(std::span<std::uint8_t const> bytes, std::size_t limit) {
  SoftPlatePacker::Stream flate(Z_DEFAULT_COMPRESSION);
  for (; bytes.size() > kPiece && flate.packed.size() < limit; bytes = bytes.subspan(kPiece)) flate.add(bytes.first(kPiece), Z_NO_FLUSH);
  if (flate.packed.size() < limit) flate.add(bytes, Z_FINISH);
  return flate.packed.size() < limit ? std::move(flate.packed) : std::string{};
}

}  // namespace

BitPlatePacker::BitPlatePacker(int width, int height) : width_(width), any_(words_of(width)) {
  bytes_.reserve(stride() * static_cast<std::size_t>(height));
}

void BitPlatePacker::add(BitSpan row) {
  int const y = rows_++;
  long pixels = 0;
  for (std::size_t i = 0; i < row.size(); ++i) {
    pixels += std::popcount(row[i]);
    any_[i] |= row[i];
  }
  white_ += pixels;
  if (pixels == 0 && first_ < 0) return;
  if (first_ < 0) first_ = y;
  if (pixels > 0) last_ = y;
  std::size_t const at = bytes_.size();
  bytes_.resize(at + stride());
  for (std::size_t i = 0; i < stride(); ++i) bytes_[at + i] = kTurned[row[i / 8] >> (8 * (i % 8)) & 0xFF];
}

PlatePicture BitPlatePacker::finish(fz_context* library) {
  PlatePicture picture;
  if (last_ < 0) return picture;
  std::size_t left = 0, right = stride();  // bytes: columns without white fall away
  auto const column = [&](std::size_t i) { return any_[i / 8] >> (8 * (i % 8)) & 0xFF; };
  while (column(left) == 0) ++left;
  while (column(right - 1) == 0) --right;
  picture.x0 = static_cast<int>(left) * 8;
  picture.width = std::min(width_, static_cast<int>(right) * 8) - picture.x0;
  picture.y0 = first_;
  picture.height = last_ - first_ + 1;
  std::size_t const wide = right - left;
  for (std::size_t y = 0; y < static_cast<std::size_t>(picture.height); ++y) {
    auto const from = bytes_.begin() + static_cast<std::ptrdiff_t>(y * stride() + left);
    std::copy(from, from + static_cast<std::ptrdiff_t>(wide), bytes_.begin() + static_cast<std::ptrdiff_t>(y * wide));
  }
  bytes_.resize(wide * static_cast<std::size_t>(picture.height));
  picture.data = as_fax(library, bytes_, picture.width, picture.height);
  picture.packing = PlatePicture::Packing::fax;
  if (auto flate = as_flate(bytes_, picture.data.empty() ? std::string::npos : picture.data.size()); !flate.empty()) {
    picture.packing = PlatePicture::Packing::flate;
    picture.data = std::move(flate);
  }
  return picture;
}

SoftPlatePacker::SoftPlatePacker(int width) : stream_(std::make_unique<Stream>(kSoftLevel)) {
  picture_.bits = 8;
  picture_.width = width;
}
SoftPlatePacker::~SoftPlatePacker() = default;

void SoftPlatePacker::add(std::span<std::uint8_t const> row) {
  ++picture_.height;
  white_ = std::accumulate(row.begin(), row.end(), white_);
  stream_->add(row, Z_NO_FLUSH);
}

PlatePicture SoftPlatePacker::finish() {
  if (white_ == 0) return {};
  stream_->add({}, Z_FINISH);
  picture_.data = std::move(stream_->packed);
  return std::move(picture_);
}

}  // namespace layright
