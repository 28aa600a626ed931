#include "place/place.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "place/axis.h"
#include "place/refusal.h"

namespace layright {
namespace {

constexpr std::array kTurns{Turn::none, Turn::quarter, Turn::half, Turn::three_quarters};
constexpr double kSameScale = 1e-9;  // scales nearer than this (relative) fit equally well

double anchor_across(Anchor at) {
  switch (at) {
    case Anchor::left:
    case Anchor::top_left:
    case Anchor::bottom_left: return 0;
    case Anchor::right:
    case Anchor::top_right:
    case Anchor::bottom_right: return 1;
    default: return 0.5;
  }
}

double anchor_up(Anchor at) {
  switch (at) {
    case Anchor::bottom:
    case Anchor::bottom_left:
    case Anchor::bottom_right: return 0;
    case Anchor::top:
    case Anchor::top_left:
    case Anchor::top_right: return 1;
    default: return 0.5;
  }
}

/// All that a placement is made from, as the file's sheet sees it.
struct Job {
  Rect<SeenSpace> rect;  // what is scaled and anchored
  std::optional<Rect<SeenSpace>> ink;
  bool by_ink = true;
  Rect<SheetSpace> page, live;
  double anchor_x = 0.5, anchor_y = 0.5, offset_x = 0, offset_y = 0;
  double tolerance = 0;  // points that ink may pass the live area
};

Job job_of(PlaceSubject const& subject, Sheet const& sheet, PlacementOptions const& options, bool reverses_later, double tolerance) {
  Job job;
  job.tolerance = tolerance;
  job.ink = subject.ink;
  job.by_ink = options.by == PlaceBy::ink && subject.ink;
  job.rect = job.by_ink ? *subject.ink : options.by == PlaceBy::trim ? subject.trim : subject.page;
  job.page = sheet.page();
  job.live = live_area_of_file(sheet, reverses_later);
  job.anchor_x = anchor_across(options.at);
  job.anchor_y = anchor_up(options.at);
  job.offset_x = options.offset_x.in_points();
  job.offset_y = options.offset_y.in_points();
  if (reverses_later) {
    job.anchor_x = 1 - job.anchor_x;
    job.offset_x = -job.offset_x;
  }
  return job;
}

/// Reverse x, then turn: the part of the matrix that comes before scale and move.
Matrix<SeenSpace, SheetSpace> oriented(bool reverse, Turn turn) {
  auto const start = reverse ? reversal<SeenSpace>() : Matrix<SeenSpace, SeenSpace>{};
  return then(start, rotation<SeenSpace, SheetSpace>(turn));
}

std::pair<Axis, Axis> axes_of(Job const& job, bool reverse, Turn turn) {
  auto const way = oriented(reverse, turn);
  auto const rect = way.apply(job.rect);
  auto const ink = job.ink ? way.apply(*job.ink) : rect;
  auto const limit = job.ink ? job.live : job.page;
  Axis x{rect.width(),
         {ink.x0 - rect.x0, ink.x1 - rect.x0},
         {job.live.x0, job.live.x1},
         {job.page.x0, job.page.x1},
         {limit.x0, limit.x1},
         job.by_ink,
         job.anchor_x,
         job.offset_x,
         job.tolerance};
  Axis y{rect.height(),
         {ink.y0 - rect.y0, ink.y1 - rect.y0},
         {job.live.y0, job.live.y1},
         {job.page.y0, job.page.y1},
         {limit.y0, limit.y1},
         job.by_ink,
         job.anchor_y,
         job.offset_y,
         job.tolerance};
  return {x, y};
}

/// The smaller of the two ratios; a side without length asks for nothing. Nothing where neither side has any.
std::optional<double> ratio(std::optional<double> wide, double width, std::optional<double> high, double height) {
  std::optional<double> k;
  if (wide && width > 0) k = *wide / width;
  if (high && height > 0) k = k ? std::min(*k, *high / height) : *high / height;
  return k;
}

double without_noise(double scale) { return std::abs(scale - 1) < kPlacementNoise ? 1.0 : scale; }

/// The scale that the options ask for, with the rectangle turned as in x and y; nothing where it cannot be had.
std::optional<double> scale_of(PlacementOptions const& options, Job const& job, Axis const& x, Axis const& y) {
  auto const points = [](std::optional<Length> l) { return l ? std::optional(l->in_points()) : std::nullopt; };
  std::optional<double> k;
  if (options.width || options.height) {
    k = ratio(points(options.width), job.rect.width(), points(options.height), job.rect.height());
  } else if (options.scale == PlacementOptions::Scale::percent) {
    k = options.percent / 100;
  } else if (options.scale == PlacementOptions::Scale::keep) {
    return 1.0;
  } else {
    k = ratio(x.live.length(), x.rect, y.live.length(), y.rect).value_or(1);
    if (options.scale == PlacementOptions::Scale::shrink) k = std::min(*k, 1.0);
  }
  if (!k || !std::isfinite(*k) || *k <= 0) return std::nullopt;
  return without_noise(*k);
}

/// One turn, tried.
struct Tried : Attempt {
  bool fits = false, on_sheet = false;
};

Tried try_turn(Turn turn, double scale, Axis const& x, Axis const& y, bool reverses_later) {
  Tried t;
  t.mirrored = reverses_later;
  t.x = x;
  t.y = y;
  t.turn = turn;
  t.scale = scale;
  t.fitting = scales_that_fit(x, y);
  auto const on_sheet = [&](Axis const& a) {
    return a.start(scale) >= a.sheet.lo - a.tolerance && a.start(scale) + scale * a.rect <= a.sheet.hi + a.tolerance;
  };
  t.fits = x.fits(scale) && y.fits(scale);
  t.on_sheet = on_sheet(x) && on_sheet(y);
  return t;
}

/// Whether `a` fits better than `b`; equal ones are not better, so that the smaller turn stays.
bool better(Tried const& a, Tried const& b) {
  auto const larger = [](double p, double q) { return p > q * (1 + kSameScale); };
  if (a.fits != b.fits) return a.fits;
  if (!a.fits && larger(a.largest(), b.largest())) return true;
  if (!a.fits && larger(b.largest(), a.largest())) return false;
  if (a.on_sheet != b.on_sheet) return a.on_sheet;
  return larger(a.scale, b.scale);
}

double snapped(double v) { return std::abs(v) < kPlacementNoise ? 0.0 : v; }

Placement placement_of(Tried const& trial, Job const& job, bool reverse, bool reverses_later) {
  auto const scaled = then(oriented(reverse, trial.turn), scaling<SheetSpace>(trial.scale));
  auto const where = scaled.apply(job.rect);
  Placement p;
  p.matrix = then(scaled, translation<SheetSpace>(trial.x.start(trial.scale) - where.x0, trial.y.start(trial.scale) - where.y0));
  // Adding 0 turns -0 into 0, which people would wonder about.
  p.matrix.a += 0.0, p.matrix.b += 0.0, p.matrix.c += 0.0, p.matrix.d += 0.0;
  p.matrix.e = snapped(p.matrix.e);
  p.matrix.f = snapped(p.matrix.f);
  p.scale = trial.scale;
  p.turn = trial.turn;
  p.reversed = reverse;
  p.reversed_later = reverses_later;
  if (job.ink) p.ink = p.matrix.apply(*job.ink);
  p.outside = job.ink && !trial.fits;
  return p;
}

/// Whether a rectangle can be reckoned with: also its sides are finite numbers.
bool measurable(Rect<SeenSpace> const& r) { return r.finite() && std::isfinite(r.width()) && std::isfinite(r.height()); }

PlaceRefusal cannot_scale(PlacementOptions const& options) {
  bool const by_size = options.width || options.height;
  return {by_size ? "the rectangle that is placed has no extent in the direction whose size is asked for; give the other one, or a scale"
                  : "the scale asked for is not a number above 0; give one such as --scale 100%",
          {},
          0};
}

}  // namespace

Turn turn_seen(Turn turn, bool reverses_later) { return reverses_later ? inverse(turn) : turn; }

Rect<SheetSpace> mirrored(Rect<SheetSpace> const& rect, Sheet const& sheet) {
  auto const page = sheet.page();
  return {page.x0 + page.x1 - rect.x1, rect.y0, page.x0 + page.x1 - rect.x0, rect.y1};
}

Rect<SheetSpace> live_area_of_file(Sheet const& sheet, bool reverses_later) {
  return reverses_later ? mirrored(sheet.live_area(), sheet) : sheet.live_area();
}

PlaceResult place(PlaceSubject const& subject, Sheet const& sheet, PlacementOptions const& options, bool reverse, bool reverses_later, Unit unit,
                  Length tolerance) {
  Job const job = job_of(subject, sheet, options, reverses_later, tolerance.in_points());
  if (!measurable(job.rect) || (job.ink && !measurable(*job.ink))) {
    return PlaceRefusal{"the rectangle that is placed has no finite size; the page's boxes are off", {}, 0};
  }
  if (job.live.width() <= 0 || job.live.height() <= 0) {
    return PlaceRefusal{"the margins leave nothing of sheet " + sheet.name + "; give smaller ones (--margin)", {}, 0};
  }
  std::optional<Tried> best, best_of_all;
  for (Turn const seen : kTurns) {  // on the printed sheet: so the smallest of equal ones is the smallest there
    Turn const turn = turn_seen(seen, reverses_later);
    auto const [x, y] = axes_of(job, reverse, turn);
    auto const scale = scale_of(options, job, x, y);
    if (!scale) return cannot_scale(options);
    Tried const trial = try_turn(turn, *scale, x, y, reverses_later);
    if (!best_of_all || better(trial, *best_of_all)) best_of_all = trial;
    if (options.turn && *options.turn != seen) continue;
    if (!best || better(trial, *best)) best = trial;
  }
  if (best->fits || (options.allow_outside && job.ink)) return placement_of(*best, job, reverse, reverses_later);
  std::optional<Turn> other;
  if (best_of_all->fits) other = turn_seen(best_of_all->turn, reverses_later);
  auto refusal = refuse(*best, sheet, options, !job.ink, other, unit);
  refusal.as_asked = placement_of(*best, job, reverse, reverses_later);
  return refusal;
}

}  // namespace layright
