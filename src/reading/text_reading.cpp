#include "reading/text_reading.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace layright {
namespace {

using Run = TextReading::Run;
using Place = Rect<SeenSpace>;

// Bounds on what is kept; text beyond them still counts, but in the last run of its kind.
constexpr std::size_t kMostRuns = 20000, kMostFonts = 2000, kLongestWord = 200;
constexpr long kMostGlyphPictures = 2000;
constexpr double kNextGlyph = 4;  // heights: a glyph farther from the one before starts a run of its own
// Our own, argued, not measured. Three letters in a row that read the other way are a word, fewer are an ornament (a reversed R in a
// name), unless they are a quarter of all.
constexpr long kWord = 3;
constexpr double kOrnament = 0.25;
constexpr long kEnoughUnnamed = 8;    // glyphs without a name could be ornaments: only many that agree are taken for text
constexpr double kMuchCovered = 0.3;  // share of a run that may be painted over before it is no longer sure to be seen
constexpr double kSeenShare = 0.08;   // square points that a picture must show of text, as a share of its glyphs' extents: ink fills a third of those
// A letter that sticks out of its cover is no word: of a line, in steps as long as it is high, half must show, and each so much of its extents.
constexpr double kShownAlong = 0.5, kLeastOfStep = 0.03;
constexpr std::size_t kMostSteps = 200;
constexpr double kMostWork = 4e6;  // comparisons of cover(): beyond that no text is sure to be seen
constexpr double kMostDoubt = 3;   // times as many doubted glyphs as trusted ones leave the page undecided

/// A line of text in steps as long as it is high.
std::vector<Place> steps_of(Place const& line) {
  bool const level = line.width() >= line.height();
  double const length = std::max(line.width(), line.height()), height = std::max(std::min(line.width(), line.height()), 1.0);
  std::size_t const count = static_cast<std::size_t>(std::clamp(std::round(length / height), 1.0, static_cast<double>(kMostSteps)));
  std::vector<Place> steps(count, line);
  for (std::size_t i = 0; i < count; ++i) {
    double const from = length * static_cast<double>(i) / static_cast<double>(count),
                 to = length * static_cast<double>(i + 1) / static_cast<double>(count);
    (level ? steps[i].x0 : steps[i].y0) = (level ? line.x0 : line.y0) + from;
    (level ? steps[i].x1 : steps[i].y1) = (level ? line.x0 : line.y0) + to;
  }
  return steps;
}

enum class Shows { nowhere, in_part, along };

/// How much of a line of text `sight` sees.
Shows shows(Run const& run, TextReading::Sight const& sight, std::vector<Place> const& others) {
  double all = 0;
  long along = 0;
  auto const steps = steps_of(run.where);
  for (Place const& step : steps) {
    double const shown = sight(step, others);
    all += shown;
    if (shown > 0 && shown >= kLeastOfStep * step.area()) ++along;
  }
  if (all < kSeenShare * run.area) return Shows::nowhere;
  return static_cast<double>(along) < kShownAlong * static_cast<double>(steps.size()) ? Shows::in_part : Shows::along;
}

double gap(Place const& a, Place const& b) { return std::max({0.0, a.x0 - b.x1, b.x0 - a.x1, a.y0 - b.y1, b.y0 - a.y1}); }

bool mostly_inside(Place const& place, std::span<Place const> pictures) {
  return std::any_of(pictures.begin(), pictures.end(), [&](Place const& picture) {
    return picture.grown(1).contains(Place{place.centre().x, place.centre().y, place.centre().x, place.centre().y}) &&
           picture.grown(0.1 * std::max(place.width(), place.height())).contains(place);
  });
}

/// How much of each run is seen. A line falls into runs where a part of it is not sure to be seen: what is left of it is no word either.
template <class Sure>
std::vector<Shows> shown_runs(std::vector<Run> const& runs, Sure const& sure, TextReading::Sight const& sight,
                              std::vector<Place> const& sure_places) {
  std::vector<Shows> shown;
  for (Run const& run : runs) shown.push_back(run.visible && !sure(run) ? shows(run, sight, sure_places) : Shows::along);
  auto const length = [&](std::size_t i) { return std::max(runs[i].where.width(), runs[i].where.height()); };
  auto const go_on = [&](std::size_t i) {
    Run const &a = runs[i], &b = runs[i + 1];
    return a.visible && b.visible && a.font == b.font && a.mirrored == b.mirrored &&
           gap(a.last, b.where) <= kNextGlyph * std::max(a.height, b.height);
  };
  for (std::size_t first = 0, end = 0; first < runs.size(); first = end) {
    double all = 0, along = 0;
    for (end = first; end == first || (end < runs.size() && go_on(end - 1)); ++end) {
      all += length(end);
      if (shown[end] == Shows::along) along += length(end);
    }
    for (std::size_t i = first; i < end && along < kShownAlong * all; ++i)
      if (shown[i] == Shows::along) shown[i] = Shows::in_part;
  }
  return shown;
}

/// What a part of the page (visible text, or a layer) says.
struct Voice {
  long decisive[2] = {0, 0}, unnamed[2] = {0, 0}, lopsided[2] = {0, 0};  // right, wrong
  long longest[2] = {0, 0};                                              // the most telling letters in a row
  long row = 0;
  int side = -1;

  void hear(Run const& run, bool wrong) {
    int const s = wrong ? 1 : 0;
    decisive[s] += run.decisive;
    unnamed[s] += run.unnamed;
    if (run.lopsided) ++lopsided[s];
    if (run.decisive == 0) return;
    row = s == side ? row + run.decisive : run.decisive;
    side = s;
    longest[s] = std::max(longest[s], row);
  }

  Reading says() const {
    if (decisive[0] + decisive[1] > 0) return of_letters();
    if (lopsided[0] + lopsided[1] > 0) return one_sided(lopsided[0], lopsided[1], 1);
    return one_sided(unnamed[0], unnamed[1], kEnoughUnnamed);
  }
  bool mostly_wrong() const { return decisive[1] > decisive[0]; }

 private:
  Reading of_letters() const {
    int const less = mostly_wrong() ? 0 : 1;
    long const few = decisive[less], all = decisive[0] + decisive[1];
    bool const both = few > 0 && (longest[less] >= kWord || static_cast<double>(few) >= kOrnament * static_cast<double>(all));
    return both ? Reading::mixed : mostly_wrong() ? Reading::wrong : Reading::right;
  }
  static Reading one_sided(long right, long wrong, long enough) {
    if (right + wrong < enough || (right > 0 && wrong > 0)) return Reading::unknown;
    return right > 0 ? Reading::right : Reading::wrong;
  }
};

/// Neighbouring places as one, the largest first.
std::vector<Place> gathered(std::vector<Place> const& places) {
  std::vector<Place> out;
  for (Place const& place : places) {
    auto const near =
        std::find_if(out.begin(), out.end(), [&](Place const& o) { return gap(o, place) <= 1.5 * std::min(place.width(), place.height()); });
    if (near != out.end()) {
      *near = united(*near, place);
    } else if (out.size() < 10 * kMostPlaces) {
      out.push_back(place);
    }
  }
  std::stable_sort(out.begin(), out.end(), [](Place const& a, Place const& b) { return a.area() > b.area(); });
  if (out.size() > kMostPlaces) out.resize(kMostPlaces);
  return out;
}

}  // namespace

std::size_t TextReading::index_of(GlyphSeen const& glyph) {
  if (auto const found = indices_.find(glyph.font); found != indices_.end()) return found->second;
  if (fonts_.size() >= kMostFonts) return glyph.type3 ? 1 : 0;  // see add(): these two are never tested
  fonts_.push_back({glyph.type3, {}});
  return indices_[glyph.font] = fonts_.size() - 1;
}

Run& TextReading::run_for(GlyphSeen const& glyph) {
  std::size_t const font = index_of(glyph);
  bool const mirrored = glyph.to_seen.mirrors();
  auto const same_kind = [&](Run const& r) {
    return r.font == font && r.mirrored == mirrored && r.visible == glyph.visible && r.sure == glyph.sure && r.covered == 0;
  };
  if (!runs_.empty()) {
    Run& last = runs_.back();
    double const height = std::max(last.height, std::min(glyph.where.width(), glyph.where.height()));
    if (same_kind(last) && gap(last.last, glyph.where) <= kNextGlyph * height) return last;
  }
  if (runs_.size() >= kMostRuns)
    if (auto const r = std::find_if(runs_.rbegin(), runs_.rend(), same_kind); r != runs_.rend()) return *r;
  word_.clear();
  Run run;
  run.font = font, run.mirrored = mirrored, run.visible = glyph.visible, run.sure = glyph.sure;
  run.where = run.last = glyph.where;
  narrowest_ = std::min(narrowest_, run.where.width());
  lowest_ = std::min(lowest_, run.where.height());
  runs_.push_back(run);
  return runs_.back();
}

void TextReading::add(GlyphSeen const& glyph) {
  double const det = glyph.to_seen.determinant();
  MirrorSymmetry const kind = symmetry_of(glyph.unicode);
  if (!std::isfinite(det) || det == 0 || kind == MirrorSymmetry::no_letter || !glyph.where.finite()) return;
  if (fonts_.empty()) fonts_ = {{false, {}}, {true, {}}};  // for fonts beyond kMostFonts
  Run& run = run_for(glyph);
  run.where = united(run.where, glyph.where);
  run.last = glyph.where;
  run.height = std::max(run.height, std::min(glyph.where.width(), glyph.where.height()));
  run.area += glyph.area > 0 ? glyph.area : glyph.where.area();
  around_ = around_ ? united(*around_, glyph.where) : glyph.where;
  if (kind == MirrorSymmetry::asymmetric) ++run.decisive;
  if (kind == MirrorSymmetry::unnamed) ++run.unnamed;
  if (kind != MirrorSymmetry::symmetric) return;
  ++run.symmetric;
  if (word_.size() < kLongestWord) word_.push_back(glyph.unicode);
  run.lopsided = word_.size() >= static_cast<std::size_t>(kWord) && !std::equal(word_.begin(), word_.end(), word_.rbegin());
}

void TextReading::hide(Place const& bounds, std::function<bool(Place const&)> const& covers) {
  if (runs_.empty() || bounds.width() < narrowest_ || bounds.height() < lowest_) return;
  narrowest_ = lowest_ = std::numeric_limits<double>::infinity();
  auto const hidden = std::erase_if(runs_, [&](Run const& run) {
    if (!run.visible) return false;
    if (bounds.contains(run.where) && covers(run.where)) return true;
    narrowest_ = std::min(narrowest_, run.where.width());
    lowest_ = std::min(lowest_, run.where.height());
    return false;
  });
  if (hidden > 0) word_.clear();
}

void TextReading::cover(Place const& bounds) {
  if (runs_.empty() || !around_ || work_ > kMostWork || !intersection(bounds, *around_)) return;
  work_ += static_cast<double>(runs_.size());
  for (Run& run : runs_)
    if (run.visible)
      if (auto const part = intersection(bounds, run.where)) run.covered += part->area() / std::max(run.where.area(), 1e-6);
}

bool TextReading::wants_picture(GlyphSeen const& glyph) const {
  if (pictures_ >= kMostGlyphPictures) return false;
  auto const found = indices_.find(glyph.font);
  return found == indices_.end() ? FontShapeTest().wants(glyph.unicode) : fonts_[found->second].test.wants(glyph.unicode);
}

void TextReading::add_picture(GlyphSeen const& glyph, GlyphPicture const& picture) {
  if (fonts_.empty()) fonts_ = {{false, {}}, {true, {}}};
  std::size_t const font = index_of(glyph);
  if (font < 2) return;
  fonts_[font].test.add(glyph.unicode, picture);
  ++pictures_;
}

std::optional<Place> TextReading::asks_sight(std::span<Place const> pictures) const {
  std::optional<Place> around;
  bool unsure = false;
  for (Run const& run : runs_) {
    if (!run.visible) continue;
    unsure = unsure || !sure(run);
    around = around ? united(*around, run.where) : run.where;
  }
  if (!unsure) return std::nullopt;
  TextReadingResult const with = result(pictures), without = result(pictures, [](Place const&, auto const&) { return 0.0; });
  return with.reading == without.reading && without.reading != Reading::unknown && with.doubted == without.doubted ? std::nullopt : around;
}

bool TextReading::sure(Run const& run) const { return run.sure && run.covered <= kMuchCovered && work_ <= kMostWork; }

TextReadingResult TextReading::result(std::span<Place const> pictures, Sight const& sight) const {
  TextReadingResult r;
  Voice visible, layer;
  std::vector<std::pair<Place, bool>> places;  // with whether it reads wrong
  std::vector<Place> sure_places;
  if (sight)
    for (Run const& run : runs_)
      if (run.visible && sure(run)) sure_places.push_back(run.where);
  std::vector<Shows> const shown = sight ? shown_runs(
                                               runs_, [this](Run const& run) { return sure(run); }, sight, sure_places)
                                         : std::vector<Shows>(runs_.size(), Shows::along);
  for (std::size_t i = 0; i < runs_.size(); ++i) {
    Run const& run = runs_[i];
    if (!run.visible && !mostly_inside(run.where, pictures)) continue;
    if (shown[i] == Shows::nowhere) continue;
    FontShape const shape = fonts_[run.font].test.shape();
    // An OCR layer's font need not look like anything: what was recognised was placed by its matrix.
    bool const believed = shape != FontShape::doubtful && (shape != FontShape::untested || !fonts_[run.font].type3) && shown[i] == Shows::along;
    bool const trusted = !run.visible || believed;
    if (!run.visible) {
      layer.hear(run, run.mirrored);
      r.layer_on_picture = true;
      continue;
    }
    (trusted ? r.symmetric : r.doubted) += run.symmetric + run.unnamed + (trusted ? 0 : run.decisive);
    if (!trusted) continue;
    bool const wrong = run.mirrored != (shape == FontShape::reversed);
    visible.hear(run, wrong);
    r.area += run.area;
    (wrong ? r.wrong : r.right) += run.decisive;
    if (run.decisive > 0 || run.lopsided || run.unnamed > 0) places.push_back({run.where, wrong});
  }
  r.reading = visible.says();
  r.layer = layer.says();
  if (static_cast<double>(r.doubted) > kMostDoubt * static_cast<double>(r.right + r.wrong + r.symmetric)) r.reading = Reading::unknown;
  if (r.reading == Reading::unknown) return r;
  bool const most = r.wrong > r.right;
  std::vector<Place> reported, other;
  for (auto const& [place, wrong] : places) (r.reading == Reading::mixed && wrong != most ? other : reported).push_back(place);
  r.where = gathered(other);
  r.text = gathered(reported);
  return r;
}

}  // namespace layright
