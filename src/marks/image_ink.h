// Which pixels of a picture leave ink. Kept by picture, since a page may draw the same one thousands of times.
#pragma once
#include <cstddef>
#include <map>
#include <memory>
#include <optional>
#include <tuple>
#include <vector>

#include "marks/library_trouble.h"
#include "marks/white_parts.h"
#include "mupdf/held_images.h"
#include "raster/paper.h"

namespace layright {

struct ImageInk {
  int width = 1, height = 1;  // the grid that was looked at; row 0 is the picture's first
  struct Span {
    int from = 0, to = 0;  // columns from..to-1; none where from >= to
  };
  std::vector<Span> rows;         // the outermost inked pixels of each row
  bool any = false, all = false;  // some pixel, every pixel leaves ink
  bool covers = false;            // some pixel hides what lies beneath it
  bool gaps = false;              // somewhere between the outermost inked pixels of a row nothing is inked
  static constexpr int kGap = 8;  // pixels: a smaller one moves no side by more than two points
  bool noisy = false;             // what is nearly white was taken for white
  float ground = 0;               // the faint tint that the picture lies on, 0 to 1
  bool flat = false;              // every pixel is like the first
  std::vector<WhitePart> white;   // parts of paper-white; only where that leaves no ink
  bool cut = false;               // its data end before it does, and the rest is made up
  bool read = true;               // false: too large or damaged; the whole of it is then taken for ink

  // While it is looked at (picture_white.h): what is ink only where white is not noisy, and whether some pixel is none even so.
  std::vector<Span> faint;
  bool bare = false;

  /// From `row` on there is no data: other readers paint nothing there.
  void cut_short(int row);

  /// Under the matrix that takes the picture's unit square (first row at y = 0) to seen space; of what lies inside `window`.
  std::optional<SeenRect> extents(ToSeen const& matrix, std::optional<SeenRect> const& window) const;
};

/// What was compressed with loss. `drawn`: no picture but a shading, in which nothing is noise.
struct Loss {
  bool colours = false, mask = false, drawn = false;
};

/// Looks at gray, RGB or alpha-only pixels; `mask` may be null. Row 0 is the pixmap's first.
ImageInk look_at_pixels(fz_pixmap const& pixels, fz_pixmap const* mask, InkRule rule, float alpha, Loss loss);

class ImageCache {
 public:
  /// `heard` is set while pictures are decoded.
  ImageCache(fz_context* ctx, LibraryTrouble& heard) : ctx_(ctx), heard_(heard) {}
  ~ImageCache();
  ImageCache(ImageCache const&) = delete;
  ImageCache& operator=(ImageCache const&) = delete;

  /// `mask` may be null. A stencil's ink is where it is painted; its colour is the caller's to judge.
  ImageInk const& find(fz_image* image, fz_image* mask, InkRule rule, float alpha, fz_matrix const& matrix);
  /// Of one that leaves nothing new: only whether its data are all there is heard.
  void hear_whether_cut(fz_image* image, fz_image* mask);
  /// Lets go of what this page did not use, and of all when it is much.
  void end_page();

 private:
  using Key = std::tuple<fz_image*, fz_image*, int, int>;
  struct Kept {
    ImageInk ink;
    double width = 0, height = 0;  // points on paper that it was looked at for
    long last_page = 0;
  };
  fz_context* ctx_;
  LibraryTrouble& heard_;
  std::map<Key, Kept> kept_;
  HeldImages<Key> held_;
  struct Whole {
    bool cut = false;
    long last_page = 0;
  };
  bool is_cut(fz_image* image);
  std::map<fz_image*, Whole> whole_;
  long page_ = 0;
};

/// More pixels than this are not decoded (a sheet of 12.5 x 19 in at 1,200 dpi has 342 million).
inline constexpr double kMostImagePixels = 400e6;

}  // namespace layright
