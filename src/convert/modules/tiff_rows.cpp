#include "convert/modules/tiff_rows.h"

#include <algorithm>
#include <cstring>

namespace layright {
namespace {

// A band of rows that must be held at once, for planes or tiles.
constexpr std::size_t kLargestBand = 160u << 20;

std::uint32_t whole(TIFF* tiff, ttag_t name) {
  std::uint32_t value = 0;
  TIFFGetFieldDefaulted(tiff, name, &value);
  return value;
}
std::uint16_t small(TIFF* tiff, ttag_t name) {
  std::uint16_t value = 0;
  TIFFGetFieldDefaulted(tiff, name, &value);
  return value;
}

Error too_large() { return {ErrorKind::hold, "it is cut into pieces that are too large to unpack; ask for it saved with ordinary strips or tiles"}; }

}  // namespace

TiffRows::TiffRows(TIFF* tiff, Picture const& picture, int alpha, bool signed_lab)
    : tiff_(tiff),
      picture_(picture),
      alpha_(alpha),
      signed_lab_(signed_lab),
      separate_(small(tiff, TIFFTAG_PLANARCONFIG) == PLANARCONFIG_SEPARATE),
      samples_(small(tiff, TIFFTAG_SAMPLESPERPIXEL)),
      colour_row_(picture.row_bytes()),
      alpha_row_(picture.alpha_row_bytes()) {
  if (samples_ == 1) separate_ = false;
}

std::size_t TiffRows::plane_row_bytes() const {
  auto const a_pixel = static_cast<std::size_t>(picture_.bits * (separate_ ? 1 : samples_));
  return (static_cast<std::size_t>(picture_.width) * a_pixel + 7) / 8;
}

Outcome TiffRows::read(PictureSink& sink) {
  if (TIFFIsTiled(tiff_)) return by_tiles(sink);
  return separate_ ? by_strips(sink) : by_row(sink);
}

Outcome TiffRows::by_row(PictureSink& sink) {
  if (static_cast<std::size_t>(TIFFScanlineSize64(tiff_)) < plane_row_bytes()) return broken_picture("its rows are shorter than it is wide");
  std::vector<std::byte> row(static_cast<std::size_t>(TIFFScanlineSize64(tiff_)));
  for (long y = 0; y < picture_.height; ++y) {
    if (TIFFReadScanline(tiff_, row.data(), static_cast<std::uint32_t>(y)) != 1) return cut_short();
    give({row.data()}, sink);
  }
  return done();
}

Outcome TiffRows::by_strips(PictureSink& sink) {
  long const rows = std::min<long>(whole(tiff_, TIFFTAG_ROWSPERSTRIP), picture_.height);
  std::size_t const row_bytes = plane_row_bytes(), strip_bytes = row_bytes * static_cast<std::size_t>(rows);
  if (rows < 1) return broken_picture("its strips have no rows");
  if (strip_bytes * static_cast<std::size_t>(samples_) > kLargestBand) return too_large();
  std::vector<std::vector<std::byte>> strips(static_cast<std::size_t>(samples_), std::vector<std::byte>(strip_bytes));
  for (long top = 0; top < picture_.height; top += rows) {
    long const here = std::min(rows, picture_.height - top);
    auto const wanted = static_cast<tmsize_t>(row_bytes * static_cast<std::size_t>(here));
    for (int s = 0; s < samples_; ++s) {
      auto const strip = TIFFComputeStrip(tiff_, static_cast<std::uint32_t>(top), static_cast<std::uint16_t>(s));
      if (TIFFReadEncodedStrip(tiff_, strip, strips[static_cast<std::size_t>(s)].data(), wanted) != wanted) return cut_short();
    }
    for (long y = 0; y < here; ++y) {
      Sources sources;
      for (auto const& strip : strips) sources.push_back(strip.data() + row_bytes * static_cast<std::size_t>(y));
      give(sources, sink);
    }
  }
  return done();
}

Outcome TiffRows::by_tiles(PictureSink& sink) {
  long const wide = whole(tiff_, TIFFTAG_TILEWIDTH), high = whole(tiff_, TIFFTAG_TILELENGTH);
  if (wide < 1 || high < 1) return broken_picture("its tiles have no size");
  auto const tile_size = static_cast<std::size_t>(TIFFTileSize64(tiff_));
  std::size_t const tile_row = static_cast<std::size_t>(TIFFTileRowSize64(tiff_)), row_bytes = plane_row_bytes();
  std::size_t const band = row_bytes * static_cast<std::size_t>(high) * static_cast<std::size_t>(planes());
  if (tile_size > kLargestBand || band > kLargestBand) return too_large();
  if (tile_size < tile_row * static_cast<std::size_t>(high) || tile_row == 0) return broken_picture("its tiles have no size");
  std::vector<std::byte> tile(tile_size);
  std::vector<std::vector<std::byte>> bands(static_cast<std::size_t>(planes()), std::vector<std::byte>(row_bytes * static_cast<std::size_t>(high)));
  for (long top = 0; top < picture_.height; top += high) {
    long const here = std::min(high, picture_.height - top);
    for (int plane = 0; plane < planes(); ++plane)
      for (long left = 0; left < picture_.width; left += wide) {
        auto const number =
            TIFFComputeTile(tiff_, static_cast<std::uint32_t>(left), static_cast<std::uint32_t>(top), 0, static_cast<std::uint16_t>(plane));
        if (TIFFReadEncodedTile(tiff_, number, tile.data(), static_cast<tmsize_t>(tile_size)) != static_cast<tmsize_t>(tile_size)) return cut_short();
        // Tiles are a multiple of 16 pixels wide, so each begins with a whole byte.
        std::size_t const at = tile_row * static_cast<std::size_t>(left / wide);
        if (at >= row_bytes) break;
        std::size_t const used = std::min(tile_row, row_bytes - at);
        for (long y = 0; y < here; ++y)
          std::memcpy(bands[static_cast<std::size_t>(plane)].data() + row_bytes * static_cast<std::size_t>(y) + at,
                      tile.data() + tile_row * static_cast<std::size_t>(y), used);
      }
    for (long y = 0; y < here; ++y) {
      Sources sources;
      for (auto const& rows : bands) sources.push_back(rows.data() + row_bytes * static_cast<std::size_t>(y));
      give(sources, sink);
    }
  }
  return done();
}

/// Takes one sample of each pixel out of `sources` to place `at` of `of` samples a pixel in `into`.
void TiffRows::pick(Sources const& sources, int sample, std::vector<std::byte>& into, int at, int of) const {
  auto const* const from = separate_ ? sources[static_cast<std::size_t>(sample)] : sources[0];
  std::size_t const step = separate_ ? 1 : static_cast<std::size_t>(samples_), first = separate_ ? 0 : static_cast<std::size_t>(sample);
  auto const width = static_cast<std::size_t>(picture_.width), bits = static_cast<std::size_t>(picture_.bits);
  if (bits >= 8) {
    std::size_t const size = bits / 8;
    for (std::size_t x = 0; x < width; ++x)
      std::memcpy(into.data() + (x * static_cast<std::size_t>(of) + static_cast<std::size_t>(at)) * size, from + (x * step + first) * size, size);
    return;
  }
  unsigned const mask = (1u << bits) - 1;
  for (std::size_t x = 0; x < width; ++x) {
    std::size_t const bit = (x * step + first) * bits, to = (x * static_cast<std::size_t>(of) + static_cast<std::size_t>(at)) * bits;
    unsigned const value = static_cast<unsigned>(from[bit / 8]) >> (8 - bits - bit % 8) & mask;
    auto& byte = into[to / 8];
    byte = (byte & ~static_cast<std::byte>(mask << (8 - bits - to % 8))) | static_cast<std::byte>(value << (8 - bits - to % 8));
  }
}

/// Most significant byte first, and Lab from its lowest value.
void TiffRows::settle(std::vector<std::byte>& row) const {
  if (picture_.bits == 16)
    for (std::size_t i = 0; i + 1 < row.size(); i += 2) std::swap(row[i], row[i + 1]);
  if (!signed_lab_ || &row != &colour_row_) return;
  std::size_t const size = static_cast<std::size_t>(picture_.bits) / 8;
  for (std::size_t i = 0; i + 3 * size <= row.size(); i += 3 * size) {
    row[i + size] ^= std::byte{0x80};
    row[i + 2 * size] ^= std::byte{0x80};
  }
}

void TiffRows::give(Sources const& sources, PictureSink& sink) {
  int const colours = picture_.samples();
  if (!separate_ && samples_ == colours) std::memcpy(colour_row_.data(), sources[0], colour_row_.size());
  else
    for (int c = 0; c < colours; ++c) pick(sources, c, colour_row_, c, colours);
  settle(colour_row_);
  if (alpha_ >= 0) {
    pick(sources, alpha_, alpha_row_, 0, 1);
    settle(alpha_row_);
  }
  sink.row(colour_row_.data(), alpha_row_.data());
}

Outcome TiffRows::read_as_rgb(PictureSink& sink) {
  TIFFRGBAImage image;
  char why[1024] = {};
  if (!TIFFRGBAImageOK(tiff_, why) || !TIFFRGBAImageBegin(&image, tiff_, 1, why)) return broken_picture("its colors cannot be read");
  image.req_orientation = image.orientation;  // rows as they are stored: the page turns them
  auto const width = static_cast<std::size_t>(picture_.width), height = static_cast<std::size_t>(picture_.height);
  std::vector<std::uint32_t> pixels(width * height);
  int const good = TIFFRGBAImageGet(&image, pixels.data(), image.width, image.height);
  TIFFRGBAImageEnd(&image);
  if (!good) return cut_short();
  std::vector<std::byte> row(width * 3);
  for (std::size_t y = 0; y < height; ++y) {
    for (std::size_t x = 0; x < width; ++x) {
      std::uint32_t const p = pixels[y * width + x];
      row[x * 3] = static_cast<std::byte>(TIFFGetR(p));
      row[x * 3 + 1] = static_cast<std::byte>(TIFFGetG(p));
      row[x * 3 + 2] = static_cast<std::byte>(TIFFGetB(p));
    }
    sink.row(row.data(), nullptr);
  }
  return done();
}

}  // namespace layright
