// A path as it was drawn, and what a fill of it covers.
#pragma once
#include <cstdint>
#include <optional>
#include <vector>

#include "marks/polygon.h"
#include "mupdf/library.h"

namespace layright {

/// Points are in the space that the path was drawn in. A closed subpath leaves the current point at its start.
class Outline {
 public:
  enum class Verb : std::uint8_t { move, line, curve, close };

  void clear();
  void move(double x, double y);
  void line(double x, double y);
  void curve(double x1, double y1, double x2, double y2, double x3, double y3);
  void close();

  bool empty() const { return verbs_.empty(); }
  std::vector<Verb> const& verbs() const { return verbs_; }
  std::vector<Point<MarkSpace>> const& points() const { return points_; }  // one for a move or line, three for a curve
  /// Around all points, control points too; nothing on an empty outline.
  std::optional<Rect<MarkSpace>> const& control_box() const { return control_box_; }
  /// The rectangle, when the whole path is one with upright sides in its own space.
  std::optional<Rect<MarkSpace>> upright_rectangle() const;

 private:
  void add(double x, double y);
  std::vector<Verb> verbs_;
  std::vector<Point<MarkSpace>> points_;
  std::optional<Rect<MarkSpace>> control_box_;
};

/// Replaces what `outline` held.
void read_outline(fz_context* ctx, fz_path const* path, Outline& outline);

/// What a subpath without area leaves that is not a single point: nothing in glyphs, in paths a line of one device pixel, since each pixel
/// that a shape touches is painted (ISO 32000-1, 10.6.5).
enum class FlatParts { nothing, hairline };

/// Exact extents of the filled path (curves by their extrema).
std::optional<SeenRect> fill_extents(Outline const& outline, ToSeen const& matrix, FlatParts flat = FlatParts::nothing);

/// The filled region, curves as chords that lie within kFlatness points of them.
Polygon fill_polygon(Outline const& outline, bool even_odd, ToSeen const& matrix, FlatParts flat = FlatParts::nothing);
inline constexpr double kFlatness = 0.01;

/// Where on 0..1 the derivative of a cubic's one coordinate is zero: at most two values into `at`; gives their number.
int cubic_extrema(double p0, double p1, double p2, double p3, double at[2]);
double cubic_at(double p0, double p1, double p2, double p3, double t);
/// How many chords keep a cubic within kFlatness.
int cubic_chords(SeenPoint p0, SeenPoint p1, SeenPoint p2, SeenPoint p3);

}  // namespace layright
