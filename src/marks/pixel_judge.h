// What one pixel of a picture does to what is printed.
#pragma once
#include "marks/image_ink.h"

namespace layright {

/// Four bytes, which stay in a register: there are millions of them.
struct PixelPaint {
  bool ink = false, covers = false, full = false;  // as in Paint, and as rule 9 has it: what is nearly white is noise
  bool faint = false;                              // ink where the picture has no noise
};

/// By its colour bytes (gray or RGB, maybe with alpha; alpha alone where there are no colours) and the opacity of a mask.
class PixelJudge {
 public:
  /// `noisy_mask`: the mask was compressed with loss, so that a little opacity is none.
  PixelJudge(InkRule rule, float alpha, int samples, bool has_alpha, bool noisy_mask = false)
      : rule_(rule), alpha_(alpha), colors_(samples - (has_alpha ? 1 : 0)), has_alpha_(has_alpha), noisy_mask_(noisy_mask) {
    for (int v = 0; v < 256; ++v) gray_[v] = judge(v, v, v, 255, 255);
    // What is not white enough in one channel is not paper-white, whatever the others are.
    for (int v = 0; v < 256; ++v)
      dark_[v] =
          rule_ == InkRule::on_paper && judge(v, 255, 255, 255, 255).ink && judge(255, v, 255, 255, 255).ink && judge(255, 255, v, 255, 255).ink;
    dark_paint_ = judge(0, 0, 0, 255, 255);
  }
  PixelPaint operator()(unsigned char const* p, int mask) const {
    if (colors_ == 0) return judge(0, 0, 0, p[0], mask);
    int const a = has_alpha_ ? p[colors_] : 255;
    if (colors_ == 1 && a == 255 && mask == 255) return gray_[p[0]];
    if (colors_ == 1) return judge(p[0], p[0], p[0], a, mask);
    if (a == 255 && mask == 255 && (dark_[p[0]] || dark_[p[1]] || dark_[p[2]])) return dark_paint_;
    if (p[0] == p[1] && p[1] == p[2] && a == 255 && mask == 255) return gray_[p[0]];
    return judge(p[0], p[1], p[2], a, mask);
  }
  InkRule rule() const { return rule_; }
  /// The tint that it leaves on paper, of 255.
  float tint(unsigned char const* p, int mask) const {
    constexpr float k = 1.0F / 255;
    int const a = colors_ == 0 ? p[0] : has_alpha_ ? p[colors_] : 255;
    int const lightest = colors_ == 0 ? 0 : colors_ == 1 ? p[0] : std::min({p[0], p[1], p[2]});
    return static_cast<float>(255 - lightest) * alpha_ * (a * k) * (mask * k);
  }

 private:
  PixelPaint judge(int r, int g, int b, int a, int mask) const {
    constexpr float k = 1.0F / 255;
    Rgb const c{r * k, g * k, b * k};
    float const alpha = alpha_ * (a * k) * (mask * k);
    Paint const paint = paint_of(rule_, c, alpha);
    PixelPaint const of{paint.ink, paint.covers, paint.full};
    if (rule_ != InkRule::on_paper || !of.ink || alpha <= kFaint) return of;
    // Ink that is thinned by its opacity is no noise of the picture's own.
    if (!noisy_mask_ && alpha < 1 && !is_paper_white(c)) return of;
    if (!is_paper_white({1 - alpha * (1 - c.r), 1 - alpha * (1 - c.g), 1 - alpha * (1 - c.b)})) return of;
    return {false, alpha > kHides, alpha > kFull, true};
  }
  InkRule rule_;
  float alpha_;
  int colors_;
  bool has_alpha_, noisy_mask_;
  PixelPaint gray_[256], dark_paint_;
  bool dark_[256];
};

inline WhiteKind white_kind(PixelPaint pixel) { return pixel.ink ? WhiteKind::ink : pixel.full ? WhiteKind::white : WhiteKind::clear; }

/// Notes what pixel `x` of row `y` does.
inline void note_pixel(ImageInk& ink, std::size_t y, int x, PixelPaint pixel) {
  ink.covers = ink.covers || pixel.covers;
  if (!pixel.ink) {
    ink.all = false;
    if (!pixel.faint) {
      ink.bare = true;
      return;
    }
    auto& faint = ink.faint[y];
    if (faint.from >= faint.to) faint.from = x;
    faint.to = x + 1;
    return;
  }
  auto& span = ink.rows[y];
  if (span.from >= span.to) span.from = x;
  else if (x - span.to > ImageInk::kGap) ink.gaps = true;
  span.to = x + 1;
  ink.any = true;
}

}  // namespace layright
