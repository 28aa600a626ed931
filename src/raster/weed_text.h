// Which of the pieces that are too fine to weed lie in lines of ordinary text: a hair of a %, the dot of an i, the eye of an e.
//
// Text is known by its look, live or as outlines, upright or turned by a quarter: pieces of ink (or clear pieces, for light text) about as large as
// letters that stand in a row. Where few letters of a row have something fine, the face is an ordinary one, and film takes such text; where many
// have, it is too fine itself.
#pragma once
#include <vector>

#include "raster/weed_scan.h"

namespace layright {

/// In pixels; x1 and y1 are beyond.
struct WeedBox {
  int x0 = 0, y0 = 0, x1 = 0, y1 = 0;
  int width() const { return x1 - x0; }
  int height() const { return y1 - y0; }
};

class WeedRows {
 public:
  /// `printed`: pixels to the inch.
  explicit WeedRows(double printed) : point_(printed / 72) {}
  /// A piece that hangs together, of whatever size.
  void add(WeedBox const& piece);
  /// Takes out of `found` what lies in rows of ordinary text.
  void take_out(std::vector<WeedPiece>& found);

 private:
  struct Row {
    WeedBox box;
    int letters = 0, tallest = 0;
    long fine = 0;
  };
  void find_rows();
  int row_of(WeedPiece const& piece) const;
  bool is_text(Row const& row) const;

  double point_;
  std::vector<WeedBox> letters_;
  std::vector<Row> rows_;
  bool rows_known_ = false;
};
inline constexpr double kLeastTextEm = 8;  // points as printed: text that film takes in any ordinary face. Common practice, no published source

}  // namespace layright
