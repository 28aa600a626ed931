// A plate as a picture in a PDF stream, in the smaller of two packings, and no larger than its white.
#pragma once
#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "plate/bit_rows.h"

struct fz_context;

namespace layright {

struct PlatePicture {
  enum class Packing { fax, flate };  // ISO 32000-1, 7.4.6: CCITTFaxDecode with K -1; 7.4.4: FlateDecode
  Packing packing = Packing::flate;
  int bits = 1;               // a pixel; of 1, set is white; of 8, 255 is a full layer
  int x0 = 0, y0 = 0;         // of its upper left pixel in what was given
  int width = 0, height = 0;  // pixels; 0 where there is no white
  std::string data;
};

/// Takes the rows of a plate of one bit a pixel: set is white.
class BitPlatePacker {
 public:
  BitPlatePacker(int width, int height);
  /// From the top on.
  void add(BitSpan row);
  long white() const { return white_; }  // pixels
  /// After the last row. Throws std::bad_alloc.
  PlatePicture finish(fz_context* library);

 private:
  std::size_t stride() const { return (static_cast<std::size_t>(width_) + 7) / 8; }
  int width_, rows_ = 0, first_ = -1, last_ = -1;
  std::vector<std::uint8_t> bytes_;  // from the first row with white on; the leftmost pixel in the highest bit
  BitRow any_;                       // set where any row is
  long white_ = 0;
};

/// The same of eight bits a pixel: 255 is a full layer. Packed as the rows come, for a page of them is large.
class SoftPlatePacker {
 public:
  explicit SoftPlatePacker(int width);
  ~SoftPlatePacker();
  SoftPlatePacker(SoftPlatePacker const&) = delete;
  SoftPlatePacker& operator=(SoftPlatePacker const&) = delete;
  void add(std::span<std::uint8_t const> row);
  double white() const { return static_cast<double>(white_) / 255; }
  PlatePicture finish();

  struct Stream;

 private:
  std::unique_ptr<Stream> stream_;
  PlatePicture picture_;
  long white_ = 0;
};

}  // namespace layright
