// Breaks a stroke into the pieces that it is made of: bands along segments, joins and caps.
//
// A sink takes the pieces, in the space that the path was drawn in:
//   band(p, q, n)          between two parallel edges p±n, q±n
//   curve(p0, p1, p2, p3)  a band along a curve (only where kTakesCurves)
//   sector(p, n0, n1)      the part of a disc about p between two radii less than half a turn apart
//   half_disc(p, d)        the half of a disc about p that lies towards the unit vector d
//   polygon(points)        a convex one
#pragma once
#include <array>
#include <cmath>
#include <span>
#include <vector>

#include "marks/stroke_extents.h"

namespace layright {

using Vec = Point<MarkSpace>;
inline Vec operator+(Vec a, Vec b) { return {a.x + b.x, a.y + b.y}; }
inline Vec operator-(Vec a, Vec b) { return {a.x - b.x, a.y - b.y}; }
inline Vec operator*(Vec a, double k) { return {a.x * k, a.y * k}; }
inline double dot(Vec a, Vec b) { return a.x * b.x + a.y * b.y; }
inline double cross(Vec a, Vec b) { return a.x * b.y - a.y * b.x; }
inline Vec left_of(Vec d) { return {-d.y, d.x}; }

template <class Sink>
class StrokeWalker {
 public:
  StrokeWalker(Sink& sink, StrokeStyle const& style) : sink_(sink), style_(style) {}

  void move(Vec p) {
    finish();
    start_ = current_ = p;
  }
  void line(Vec q) {
    touched_ = true;
    Vec const d = q - current_;
    double const length = std::hypot(d.x, d.y);
    if (!(length > kTiny)) return;
    turn_to(d * (1 / length));
    sink_.band(current_, q, left_of(direction_) * style_.radius);
    current_ = q;
  }
  void curve(Vec p1, Vec p2, Vec p3) {
    Vec const p0 = current_;
    touched_ = true;
    Vec const first = unit(p1 - p0, p2 - p0, p3 - p0), last = unit(p3 - p2, p3 - p1, p3 - p0);
    if (first.x == 0 && first.y == 0) return;  // all in one point
    turn_to(first);
    sink_.curve(p0, p1, p2, p3, left_of(first) * style_.radius, left_of(last) * style_.radius);
    direction_ = last;
    current_ = p3;
  }
  void close() {
    bool const touched = touched_;
    if (drawn_) {
      line(start_);
      join(start_, direction_, first_);
    } else if (touched || closes_alone_) {
      dot_at(start_);
    }
    drawn_ = touched_ = false;
    current_ = start_;
  }
  /// Ends an open subpath with its caps.
  void finish() {
    if (drawn_) {
      cap(start_, first_ * -1);
      cap(current_, direction_);
    } else if (touched_) {
      dot_at(start_);
    }
    drawn_ = touched_ = false;
  }
  /// A dash without length: its caps only, along the line that it lies on.
  void point_along(Vec p, Vec d) {
    cap(p, d);
    cap(p, d * -1);
  }
  Vec current() const { return current_; }

 private:
  static constexpr double kTiny = 1e-7;
  static Vec unit(Vec a, Vec b, Vec c) {
    for (auto v : {a, b, c}) {
      double const length = std::hypot(v.x, v.y);
      if (length > kTiny) return v * (1 / length);
    }
    return {0, 0};
  }
  void turn_to(Vec d) {
    if (drawn_) join(current_, direction_, d);
    else first_ = d;
    drawn_ = true;
    direction_ = d;
  }
  void join(Vec p, Vec from, Vec to) {
    double const turn = cross(from, to), along = dot(from, to);
    if (std::fabs(turn) < 1e-9 && along > 0) return;
    double const outer = turn > 0 ? -1 : 1;  // the outer side of a left turn is the right one
    Vec const n0 = left_of(from) * (outer * style_.radius), n1 = left_of(to) * (outer * style_.radius);
    if (style_.join == StrokeJoin::round) {
      if (along < -1 + 1e-9) sink_.half_disc(p, from);  // straight back
      else sink_.sector(p, n0, n1);
      return;
    }
    std::array<Vec, 4> corner{p, p + n0, p + n1, p + n1};
    // Miter length over width is 1 / sin(half the angle) (ISO 32000-1, 8.4.3.5); that sine squared is (1 + along) / 2 of the turn.
    double const sine_squared = (1 + along) / 2;
    if (style_.join == StrokeJoin::miter && sine_squared > 1e-12 && style_.miter_limit * style_.miter_limit * sine_squared >= 1) {
      Vec const middle = (n0 + n1) * 0.5;
      double const k = style_.radius * style_.radius / dot(middle, middle);
      if (std::isfinite(k)) corner = {p, p + n0, p + middle * k, p + n1};
    }
    sink_.polygon(corner);
  }
  void cap(Vec p, Vec d) {
    double const r = style_.radius;
    Vec const n = left_of(d) * r;
    switch (style_.cap) {
      case StrokeCap::butt: break;
      case StrokeCap::round: sink_.half_disc(p, d); break;
      case StrokeCap::square: sink_.polygon(std::array{p - n, p + n, p + n + d * r, p - n + d * r}); break;
      case StrokeCap::triangle: sink_.polygon(std::array{p - n, p + n, p + d * r, p + d * r}); break;
    }
  }
  /// A subpath that is one point: only round caps show (ISO 32000-1, 8.5.3.2).
  void dot_at(Vec p) {
    if (style_.cap != StrokeCap::round) return;
    sink_.half_disc(p, {1, 0});
    sink_.half_disc(p, {-1, 0});
  }

  Sink& sink_;
  StrokeStyle const& style_;
  Vec start_{}, current_{}, first_{}, direction_{};
  bool drawn_ = false;    // the subpath has a segment with length
  bool touched_ = false;  // it has a segment, if only a point
  bool closes_alone_ = true;
};

/// Cuts a path into its dashes (ISO 32000-1, 8.4.3.6) and walks each.
template <class Sink>
class Dasher {
 public:
  Dasher(Sink& sink, StrokeStyle const& style) : sink_(sink), walker_(sink, style), style_(style) {
    for (float d : style.dashes) total_ += std::fabs(d);
  }
  bool gave_up() const { return count_ > kMostDashes; }
  void move(Vec p) {
    walker_.finish();
    start_ = current_ = p;
    index_ = 0;
    double phase = std::fmod(style_.dash_phase, total_ * (style_.dashes.size() % 2 ? 2 : 1));
    if (phase < 0) phase += total_ * (style_.dashes.size() % 2 ? 2 : 1);
    while (phase > 0 && phase >= length()) {
      phase -= length();
      ++index_;
    }
    left_ = length() - phase;
    if (on()) walker_.move(p);
  }
  void line(Vec q) {
    Vec const d = q - current_;
    double const whole = std::hypot(d.x, d.y);
    if (!(whole > 0) || gave_up()) return;
    Vec const u = d * (1 / whole);
    double done = 0;
    while (whole - done > left_ && !gave_up()) {
      done += left_;
      Vec const p = current_ + u * done;
      if (on()) {
        if (length() == 0) walker_.point_along(p, u);
        else walker_.line(p);
        walker_.finish();
      }
      ++index_;
      ++count_;
      left_ = length();
      if (on()) walker_.move(p);
    }
    left_ -= whole - done;
    current_ = q;
    if (on() && length() > 0) walker_.line(q);
  }
  void close() { line(start_); }
  void finish() { walker_.finish(); }

 private:
  bool on() const { return index_ % 2 == 0; }
  double length() const { return std::fabs(style_.dashes[static_cast<std::size_t>(index_) % style_.dashes.size()]); }
  Sink& sink_;
  StrokeWalker<Sink> walker_;
  StrokeStyle const& style_;
  Vec start_{}, current_{};
  double total_ = 0, left_ = 0;
  long index_ = 0, count_ = 0;
};

}  // namespace layright
