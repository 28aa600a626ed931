// Pieces of a black-and-white picture that are too narrow or too small, found row after row: memory does not grow with the picture.
#pragma once
#include <cstdint>
#include <functional>
#include <memory>
#include <span>
#include <vector>

namespace layright {

/// In pixels; x1 and y1 are beyond. `width`: of the largest disc that fits into what makes it too narrow; 0: it is wide enough, but too small.
struct WeedPiece {
  int x0 = 0, y0 = 0, x1 = 0, y1 = 0;
  long area = 0;
  int width = 0;
};

struct WeedRules {
  int width = 1;          // pixels: into all but thin parts a disc fits that is so many wide, 1 to kMostDisc
  double area = 0;        // pixels: the least of what hangs together
  bool diagonals = true;  // pixels that touch at a corner hang together
  int length = 0;         // pixels: how long a thin part that hangs on something wider is at least, from corner to corner, to be reported
};
inline constexpr int kMostDisc = 60;
inline constexpr long kMostWeedPieces = 50000;
inline constexpr long kMostWeedRuns = 25000000;  // several times what a large sheet full of text has

/// Looks at the marked pixels only. A thin part is what no disc of the asked width covers; it counts where it reaches further from what
/// the discs cover than the disc is wide, or hangs together with no such part: corners of anything are thin, but short. Beyond the
/// picture nothing is marked. Noise and dots have millions of pieces, and no place that a person could fix: after kMostWeedPieces of them,
/// or kMostWeedRuns runs of pixels, the scan is full.
class WeedScan {
 public:
  /// `whole` is given each piece that hangs together, whatever its size; it may be empty.
  WeedScan(int picture_width, WeedRules rules, std::function<void(WeedPiece const&)> const& found,
           std::function<void(WeedPiece const&)> const& whole = {});
  ~WeedScan();
  bool full() const;                              // what comes now need not be given: stop()
  std::size_t words() const;                      // of a row: 64 pixels each, the first in the lowest bit
  void row(std::span<std::uint64_t const> bits);  // rows from the top; bits beyond the width are 0
  void finish();
  /// Instead, where rows are left: what they could still make wider or larger is not reported.
  void stop();

 private:
  struct Members;
  std::unique_ptr<Members> m_;
};

/// The disc of this many pixels: each of its rows begins `from` pixels from the left of the square around it, and is `length` long. A
/// pixel belongs to it whose middle is at most half the width from the disc's.
struct DiscRow {
  int from, length;
};
std::vector<DiscRow> weed_disc(int width);

}  // namespace layright
