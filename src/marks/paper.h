// What leaves ink: paper-white does not (DESIGN rule 9), unless the press lays white.
#pragma once
#include "marks/library.h"

namespace layright {

/// Luminance at least 98 % of white and no channel below 94 %: JPEG is noisy. Luminance by the weights of ITU-R BT.709-6, 3.2.
inline bool is_paper_white(Rgb c) {
  return 0.2126F * c.r + 0.7152F * c.g + 0.0722F * c.b >= 0.98F && c.r >= 0.94F && c.g >= 0.94F && c.b >= 0.94F;
}
inline float luminance(Rgb c) { return 0.2126F * c.r + 0.7152F * c.g + 0.0722F * c.b; }

/// What counts as a mark in the place that is looked at.
enum class InkRule {
  on_paper,    // what differs from paper-white when laid on white paper
  any_paint,   // everything that is not clear: a press that lays white, or a soft mask by alpha
  luminosity,  // everything that is not black: a soft mask by luminosity
};

/// Below this a colour cannot be told from clear, or from black in a mask: half a step of eight bits, doubled.
inline constexpr float kFaint = 1.0F / 255;
/// White of this opacity may hide what lies beneath; of this one it does.
inline constexpr float kHides = 0.9F, kFull = 0.99F;

struct Paint {
  bool ink = false;     // leaves a mark
  bool covers = false;  // hides marks beneath it without leaving one
  bool full = false;    // at full strength: nothing shines through
};

inline Paint paint_of(InkRule rule, Rgb c, float alpha) {
  if (!(alpha > kFaint)) return {};
  switch (rule) {
    case InkRule::any_paint: return {true, false, alpha > kFull};
    case InkRule::luminosity: {
      bool const light = luminance(c) * alpha > kFaint;
      return {light, !light, luminance(c) * alpha > kFull};
    }
    case InkRule::on_paper: break;
  }
  Rgb const laid{1 - alpha * (1 - c.r), 1 - alpha * (1 - c.g), 1 - alpha * (1 - c.b)};
  bool const ink = !is_paper_white(laid);
  return {ink, !ink && alpha > kHides, alpha > kFull};
}

}  // namespace layright
