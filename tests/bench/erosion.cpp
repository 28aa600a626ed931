// Times the plate's erosion against OpenCV's with the same disc, on one picture, and counts the pixels in which they differ.
//   erosion WIDTH HEIGHT RADIUS ROUNDS: prints "OURS THEIRS DIFFERENT", in seconds of the processor, the least of the rounds
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>

#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>

#include "plate/disc.h"

using namespace layright;

namespace {

double processor_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

/// Blobs, lines and bare ground, as art has them.
cv::Mat art(int width, int height) {
  cv::Mat picture = cv::Mat::zeros(height, width, CV_8U);
  unsigned state = 7;
  auto const random = [&](int most) { return static_cast<int>((state = state * 1664525U + 1013904223U) >> 8) % most; };
  for (int i = 0; i < 300; ++i) cv::circle(picture, {random(width), random(height)}, 3 + random(width / 12), i % 3 ? 255 : 0, cv::FILLED);
  for (int i = 0; i < 300; ++i) cv::line(picture, {random(width), random(height)}, {random(width), random(height)}, 255, 1 + random(12));
  return picture;
}

BitPicture bits(cv::Mat const& picture) {
  BitPicture made(picture.cols, picture.rows);
  for (int y = 0; y < picture.rows; ++y)
    for (int x = 0; x < picture.cols; ++x)
      if (picture.at<unsigned char>(y, x)) made.row(y)[static_cast<std::size_t>(x) / 64] |= std::uint64_t{1} << (static_cast<unsigned>(x) % 64);
  return made;
}

cv::Mat disc(double radius) {
  auto const half = disc_half_widths(radius);
  int const reach = static_cast<int>(half.size()) - 1;
  cv::Mat kernel = cv::Mat::zeros(2 * reach + 1, 2 * reach + 1, CV_8U);
  for (int dy = -reach; dy <= reach; ++dy) {
    int const wide = half[static_cast<std::size_t>(std::abs(dy))];
    for (int dx = -wide; dx <= wide; ++dx) kernel.at<unsigned char>(reach + dy, reach + dx) = 1;
  }
  return kernel;
}

}  // namespace

int main(int count, char** words) {
  if (count != 5) return 64;
  int const width = std::atoi(words[1]), height = std::atoi(words[2]), rounds = std::atoi(words[4]);
  double const radius = std::atof(words[3]);
  cv::setNumThreads(1);
  auto const picture = art(width, height);
  auto const packed = bits(picture);
  auto const kernel = disc(radius);
  double ours = 1e9, theirs = 1e9;
  BitPicture made(width, height);  // written again in each round, as OpenCV's is: new memory costs more than the work
  cv::Mat eroded;
  for (int i = 0; i < rounds; ++i) {
    double const begun = processor_seconds();
    int y = 0;
    Disc ours_of(DiscKind::erode, width, radius, [&](BitSpan row) { std::ranges::copy(row, made.row(y++).begin()); });
    for (int from = 0; from < height; ++from) ours_of.row(packed.row(from));
    ours_of.finish();
    double const between = processor_seconds();
    cv::erode(picture, eroded, kernel, {-1, -1}, 1, cv::BORDER_CONSTANT, 0);
    ours = std::min(ours, between - begun);
    theirs = std::min(theirs, processor_seconds() - between);
  }
  auto const wanted = bits(eroded);
  long different = 0;
  for (std::size_t i = 0; i < wanted.words().size(); ++i) different += __builtin_popcountll(wanted.words()[i] ^ made.words()[i]);
  std::printf("%g %g %ld\n", ours, theirs, different);
  return 0;
}
