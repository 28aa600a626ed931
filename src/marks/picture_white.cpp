#include "marks/picture_white.h"

#include <cmath>

namespace layright {
namespace {

// Our own, in steps of 255.
constexpr float kLight = 16;                     // 6 %: what rule 9 may pass over at most
constexpr float kTinted = 51;                    // 20 %: a stronger border is no faint ground
constexpr double kLeastLight = 0.25;             // of the border: with less of it light, it says nothing
constexpr double kClean = 1.3, kCleanLossy = 3;  // half a percent; what a coarse quantizer of JPEG makes of white
constexpr double kNoiseShare = 0.05;             // of the light border: so much of it off white is noise
constexpr double kSpreads = 3;                   // white within three spreads of the border is what it means
constexpr double kMostlyTinted = 0.75, kFlat = 8;
constexpr double kStepOfSpread = 1.128;  // the mean step between independent normal values, in their spreads (2 / sqrt(pi))

}  // namespace

void PictureBorder::add(float tint) {
  ++all_;
  if (tint >= kClean && tint <= kTinted) {
    ++tinted_;
    tinted_sum_ += tint;
    tinted_squares_ += static_cast<double>(tint) * tint;
  }
  if (tint > kLight) {
    last_ = -1;
    return;
  }
  ++light_;
  sum_ += tint;
  not_white_ += tint >= 0.5F;
  if (last_ >= 0) {
    ++steps_;
    steps_sum_ += std::fabs(tint - last_);
  }
  last_ = tint;
}

bool PictureBorder::white_is_noisy(bool lossy) const {
  if (static_cast<double>(light_) < kLeastLight * static_cast<double>(all_) || light_ == 0) return true;
  double const mean = sum_ / static_cast<double>(light_);
  if (mean <= (lossy ? kCleanLossy : kClean)) return lossy || static_cast<double>(not_white_) >= kNoiseShare * static_cast<double>(light_);
  double const spread = steps_ > 0 ? steps_sum_ / static_cast<double>(steps_) / kStepOfSpread : 0;
  return mean <= kSpreads * spread;
}

float PictureBorder::ground(bool lossy) const {
  if (static_cast<double>(tinted_) < kMostlyTinted * static_cast<double>(all_) || tinted_ == 0) return 0;
  double const n = static_cast<double>(tinted_), mean = tinted_sum_ / n;
  bool const flat = tinted_squares_ / n - mean * mean <= kFlat * kFlat;
  bool const white = mean <= kLight && white_is_noisy(lossy);
  return flat && !white ? static_cast<float>(mean / 255) : 0;
}

void settle_white(ImageInk& ink, PictureBorder const& border, bool lossy) {
  ink.ground = border.ground(lossy);
  ink.noisy = border.white_is_noisy(lossy);
  if (!ink.noisy) {
    for (std::size_t y = 0; y < ink.rows.size(); ++y) {
      auto const& faint = ink.faint[y];
      auto& row = ink.rows[y];
      if (faint.from >= faint.to) continue;
      row = row.from < row.to ? ImageInk::Span{std::min(row.from, faint.from), std::max(row.to, faint.to)} : faint;
      ink.any = true;
    }
    ink.all = !ink.bare;
  }
  ink.faint = {};
}

}  // namespace layright
