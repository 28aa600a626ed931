#include "marks/mask_fade.h"

#include <algorithm>

namespace layright {
namespace {

// Our own. An edge that was only smoothed is half clear over one or two pixels; a fade goes on for more.
constexpr int kEdge = 3;
constexpr unsigned char kClear = 12, kOpaque = 243;  // within 5 % of either end
constexpr double kLeastFading = 0.001;
constexpr float kMostSide = 1024;  // pixels a side that are looked at; smaller than that, each

bool half(unsigned char v) { return v > kClear && v < kOpaque; }

}  // namespace

bool mask_fades(fz_context* ctx, fz_image* mask) {
  if (static_cast<double>(mask->w) * mask->h > 100e6) return false;
  float const most = static_cast<float>(std::max(mask->w, mask->h)), k = std::min(1.0F, kMostSide / most);
  fz_pixmap* const pixels = image_pixels(ctx, mask, fz_scale(k * static_cast<float>(mask->w), k * static_cast<float>(mask->h)));
  if (pixels == nullptr) return false;
  auto const at = [&](int x, int y) { return pixels->samples[y * pixels->stride + x * pixels->n]; };
  long fading = 0;
  for (int y = kEdge; y < pixels->h - kEdge; ++y)
    for (int x = kEdge; x < pixels->w - kEdge; ++x)
      if (half(at(x, y)) && half(at(x - kEdge, y)) && half(at(x + kEdge, y)) && half(at(x, y - kEdge)) && half(at(x, y + kEdge))) ++fading;
  bool const fades = static_cast<double>(fading) >= kLeastFading * pixels->w * pixels->h && fading > 0;
  fz_drop_pixmap(ctx, pixels);
  return fades;
}

}  // namespace layright
