// What leaves ink: from half a percent of a tint on, however light it looks; what is whiter does not, unless the press lays white. In a
// picture with noise paper-white is wider (DESIGN rule 9).
#pragma once
#include <algorithm>
#include <cstdint>

#include "mupdf/library.h"

namespace layright {

/// Luminance at least 98 % of white and no channel below 94 %: JPEG is noisy. Luminance by the weights of ITU-R BT.709-6, 3.2.
inline bool is_paper_white(Rgb c) { return 0.2126F * c.r + 0.7152F * c.g + 0.0722F * c.b >= 0.98F && c.r >= 0.94F && c.g >= 0.94F && c.b >= 0.94F; }
/// The same of bytes.
inline bool is_paper_white(std::uint8_t r, std::uint8_t g, std::uint8_t b) {
  constexpr int kLeast = 240;  // the first that is 94 % of 255
  return r >= kLeast && g >= kLeast && b >= kLeast && 2126 * r + 7152 * g + 722 * b >= 9800 * 255;
}
inline float luminance(Rgb c) { return 0.2126F * c.r + 0.7152F * c.g + 0.0722F * c.b; }

/// The strongest tint that a colour asks for where only its RGB is known (ISO 32000-1, 10.3.4: an ink is what its complement lacks).
inline float tint_of(Rgb c) { return 1 - std::min({c.r, c.g, c.b}); }
/// A press lays dots from this tint on: half a percent, less what 32-bit floats lose (a tint of 0.005 from gray 0.995).
inline constexpr float kLeastTint = 0.005F - 1e-5F;
/// What is fainter counts only by the sum of what lies on each other; below this not even so.
inline constexpr float kTraceTint = 0.0005F;

/// What counts as a mark in the place that is looked at.
enum class InkRule {
  on_paper,    // what differs from paper-white when laid on white paper
  any_paint,   // everything that is not clear: a press that lays white, or a soft mask by alpha
  luminosity,  // everything that is not black: a soft mask by luminosity
};

/// Below this a colour cannot be told from clear, or from black in a mask: half a step of eight bits, doubled.
inline constexpr float kFaint = 1.0F / 255;
/// White of this opacity may hide what lies beneath; of this one it does: less than kLeastTint of it is left.
inline constexpr float kHides = 0.9F, kFull = 0.995F;

struct Paint {
  bool ink = false;     // leaves a mark
  bool covers = false;  // hides marks beneath it without leaving one
  bool full = false;    // at full strength: nothing shines through
  float trace = 0;      // a tint too faint to be ink by itself, on paper; what adds up is
};

/// `tint`: the strongest separation of the colour.
inline Paint paint_of(InkRule rule, Rgb c, float alpha, float tint) {
  if (!(alpha > (rule == InkRule::on_paper ? kTraceTint : kFaint))) return {};
  switch (rule) {
    case InkRule::any_paint: return {true, false, alpha > kFull};
    case InkRule::luminosity: {
      bool const light = luminance(c) * alpha > kFaint;
      return {light, !light, luminance(c) * alpha > kFull};
    }
    case InkRule::on_paper: break;
  }
  float const laid = tint * alpha;
  bool const ink = laid >= kLeastTint;
  return {ink, !ink && alpha > kHides, alpha > kFull, !ink && laid > kTraceTint ? laid : 0};
}
inline Paint paint_of(InkRule rule, Rgb c, float alpha) { return paint_of(rule, c, alpha, tint_of(c)); }

}  // namespace layright
