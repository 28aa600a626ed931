// White parts inside a picture: opaque paper-white beside ink, found row after row while the picture is looked at. On a press that lays no white
// they are holes. White that is the paper around the art, and the insides of letters on such paper, are none.
#pragma once
#include <cstddef>
#include <vector>

namespace layright {

/// What a pixel is to whoever looks for white.
enum class WhiteKind : unsigned char { ink, white, clear };

/// Of a picture, in its pixels.
struct WhitePart {
  int x0 = 0, y0 = 0, x1 = 0, y1 = 0;  // x1, y1 are beyond
  double area = 0, thickness = 0;      // about the width of its strokes
};

class WhiteParts {
 public:
  /// Gives up beyond so many pieces: a picture so torn is grain, and has no parts that one would miss.
  static constexpr std::size_t kMostPieces = 200'000;
  static constexpr std::size_t kMostParts = 64;

  /// The next row from the top, of `width` kinds.
  void row(WhiteKind const* kinds, int width);
  /// After the last row: the largest ones, at most kMostParts.
  std::vector<WhitePart> parts() const;

 private:
  struct Run {
    int x0, x1;
    std::size_t piece;
  };
  struct Piece {
    WhitePart box;
    double perimeter = 0;
    bool at_border = false;
    void take(Piece const& other);
  };
  std::size_t root_of(std::size_t piece) const;
  void join(std::size_t a, std::size_t b);
  void add_run(int x0, int x1);

  int width_ = 0, height_ = 0;
  std::vector<Run> above_, runs_;
  std::size_t next_above_ = 0;
  mutable std::vector<std::size_t> parent_;
  std::vector<Piece> pieces_;
  double ink_ = 0;
  long clear_ = 0, white_at_sides_ = 0, white_in_first_ = 0, white_in_last_ = 0;
  bool torn_ = false;
};

}  // namespace layright
