// What one pixel of a picture does to what is printed.
#pragma once
#include "marks/image_ink.h"

namespace layright {

/// By its colour bytes (gray or RGB, maybe with alpha; alpha alone where there are no colours) and the opacity of a mask.
class PixelJudge {
 public:
  PixelJudge(InkRule rule, float alpha, int samples, bool has_alpha) : rule_(rule), alpha_(alpha), colors_(samples - (has_alpha ? 1 : 0)), has_alpha_(has_alpha) {
    for (int v = 0; v < 256; ++v) gray_[v] = judge(v, v, v, 255, 255);
    // What is not white enough in one channel is not paper-white, whatever the others are.
    for (int v = 0; v < 256; ++v) dark_[v] = rule_ == InkRule::on_paper && judge(v, 255, 255, 255, 255).ink && judge(255, v, 255, 255, 255).ink && judge(255, 255, v, 255, 255).ink;
    dark_paint_ = judge(0, 0, 0, 255, 255);
  }
  Paint operator()(unsigned char const* p, int mask) const {
    if (colors_ == 0) return judge(0, 0, 0, p[0], mask);
    int const a = has_alpha_ ? p[colors_] : 255;
    if (colors_ == 1 && a == 255 && mask == 255) return gray_[p[0]];
    if (colors_ == 1) return judge(p[0], p[0], p[0], a, mask);
    if (a == 255 && mask == 255 && (dark_[p[0]] || dark_[p[1]] || dark_[p[2]])) return dark_paint_;
    if (p[0] == p[1] && p[1] == p[2] && a == 255 && mask == 255) return gray_[p[0]];
    return judge(p[0], p[1], p[2], a, mask);
  }

 private:
  Paint judge(int r, int g, int b, int a, int mask) const {
    constexpr float k = 1.0F / 255;
    return paint_of(rule_, {r * k, g * k, b * k}, alpha_ * (a * k) * (mask * k));
  }
  InkRule rule_;
  float alpha_;
  int colors_;
  bool has_alpha_;
  Paint gray_[256], dark_paint_;
  bool dark_[256];
};

/// Notes what pixel `x` of row `span` does.
inline void note_pixel(ImageInk& ink, ImageInk::Span& span, int x, Paint paint) {
  ink.covers = ink.covers || paint.covers;
  if (!paint.ink) {
    ink.all = false;
    return;
  }
  if (span.from >= span.to) span.from = x;
  span.to = x + 1;
  ink.any = true;
}

}  // namespace layright
