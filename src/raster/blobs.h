// Pieces of a picture that hang together on one side of a threshold: what could be letters, before anything is read.
#pragma once
#include <cstdint>
#include <span>
#include <vector>

namespace layright {

/// One eight-bit value a pixel, row by row from the top.
struct GreyPicture {
  int width = 0, height = 0;
  std::vector<std::uint8_t> pixels;
  std::uint8_t at(int x, int y) const { return pixels[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)]; }
  bool holds(int x, int y) const { return x >= 0 && y >= 0 && x < width && y < height; }
};

/// Means over squares of `by` x `by` pixels; what is left over at the right and lower edge is dropped.
GreyPicture smaller(GreyPicture const& picture, int by);

/// The distance in pixels from dot to dot, or stripe to stripe, of a screen; 0 where there is hardly anything like one.
int screen_pitch(GreyPicture const& picture);

/// Means over squares of `side` x `side` pixels around each, done twice: dots and stripes so far apart are joined.
GreyPicture joined(GreyPicture const& picture, int side);

/// Thresholds between the colours that a channel mostly has, strongest first, at most kMostThresholds; none for a flat picture.
std::vector<int> thresholds(GreyPicture const& channel);
inline constexpr std::size_t kMostThresholds = 4;

/// Pixels x0 <= x < x1 of row y.
struct BlobRun {
  int y, x0, x1, blob;
};

struct Blob {
  int x0 = 0, y0 = 0, x1 = 0, y1 = 0;  // x1, y1 are beyond
  long area = 0;
  bool light = false;  // above the threshold
  int top_x = 0;       // its leftmost pixel in row y0
  int width() const { return x1 - x0; }
  int height() const { return y1 - y0; }
};

/// All blobs of both kinds, four-connected; every pixel belongs to one. Runs are in reading order.
struct BlobMap {
  int width = 0, height = 0;
  std::vector<Blob> blobs;
  std::vector<BlobRun> runs;
  std::vector<std::size_t> rows;  // where each row's runs begin; one more at the end
  /// The blob at a pixel.
  int at(int x, int y) const;
};
/// Gives up (no blobs) beyond `most_runs`: a picture so torn holds no letters that could be read.
BlobMap find_blobs(GreyPicture const& channel, int threshold, std::size_t most_runs);

}  // namespace layright
