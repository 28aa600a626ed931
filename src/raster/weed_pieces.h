// Pixels that hang together, row after row: only what the last row still touches is kept.
#pragma once
#include <functional>
#include <vector>

namespace layright {

/// Pixels x0 <= x < x1 of one row.
struct WeedRun {
  int x0, x1;
  int width = 0;        // the greatest that was found in it
  bool marked = false;  // what the caller looks for lies in it
  bool held = false;    // it hangs on something that belongs to no piece
};

struct JoinedPiece {
  int x0, y0, x1, y1;  // x1, y1 are beyond
  long area;
  int width;          // the greatest of its runs
  bool marked, held;  // one of its runs is
};

class WeedPieces {
 public:
  /// `diagonals`: runs that touch at a corner hang together. `done` gets each piece once nothing more can join it.
  WeedPieces(bool diagonals, std::function<void(JoinedPiece const&)> done) : reach_(diagonals ? 1 : 0), done_(std::move(done)) {}
  /// Runs from left to right, apart from each other; rows one after another, empty ones too.
  void row(int y, std::vector<WeedRun> const& runs);
  void finish();
  /// Instead, where more rows would come: of the pieces that the last row touches, only those that are so many rows high.
  void stop(int rows);

 private:
  int root(int label);
  void join(int a, int b);
  void hand_over();

  int reach_;
  std::function<void(JoinedPiece const&)> done_;
  std::vector<WeedRun> last_;
  std::vector<int> last_labels_, parents_;
  std::vector<JoinedPiece> pieces_;
};

}  // namespace layright
