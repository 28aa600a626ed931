// What a stroke covers: its width, joins, caps and dashes, under the full matrix.
#pragma once
#include <optional>
#include <span>

#include "marks/outline.h"

namespace layright {

enum class StrokeCap { butt, round, square, triangle };
enum class StrokeJoin { miter, round, bevel };

/// In the space that the path was drawn in (ISO 32000-1, 8.4.3).
struct StrokeStyle {
  double radius = 0.5;  // half the width; 0 for a hairline
  StrokeJoin join = StrokeJoin::miter;
  double miter_limit = 10;
  StrokeCap cap = StrokeCap::butt;
  std::span<float const> dashes;
  double dash_phase = 0;
};

StrokeStyle stroke_style(fz_stroke_state const& state);

/// Around everything the stroke could cover; quick, and too large where joins are mitred.
std::optional<SeenRect> stroke_bounds(Outline const& outline, StrokeStyle const& style, ToSeen const& matrix);

/// Exact extents; with `window`, of what lies inside it. Nothing where nothing is left.
std::optional<SeenRect> stroke_extents(Outline const& outline, StrokeStyle const& style, ToSeen const& matrix,
                                       std::optional<SeenRect> const& window = std::nullopt);

/// More dashes than this in one path are taken for a whole line.
inline constexpr long kMostDashes = 200000;

}  // namespace layright
