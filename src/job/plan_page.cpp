#include "job/plan_page.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/version.h"
#include "check/annotation_words.h"
#include "place/place_laid.h"

namespace layright {
namespace {

/// A placement taken apart again: what a matrix between two upright spaces does.
Placement taken_apart(Matrix<SeenSpace, SheetSpace> const& m) {
  Placement p;
  p.matrix = m;
  p.reversed = m.mirrors();
  p.scale = std::hypot(m.c, m.d);
  // The second column is (-sin, cos) times the scale, whether or not x was reversed first.
  p.turn = turn_of(std::lround(std::atan2(-m.c, m.d) * 180 / 3.14159265358979323846)).value_or(Turn::none);
  if (std::abs(p.scale - 1) < 1e-9) p.scale = 1;
  return p;
}

/// Takes what is left of arithmetic noise off a matrix that is all but the identity.
Matrix<SeenSpace, SheetSpace> without_noise(Matrix<SeenSpace, SheetSpace> m) {
  Matrix<SeenSpace, SheetSpace> const one;
  auto const near = [](double a, double b) { return std::abs(a - b) < kPlacementNoise; };
  bool const same = near(m.a, one.a) && near(m.b, one.b) && near(m.c, one.c) && near(m.d, one.d) && near(m.e, one.e) && near(m.f, one.f);
  return same ? one : m;
}

/// What is seen of a laid page is its sheet.
template <class From, class To, class A, class B>
Matrix<From, To> of_laid(Matrix<A, B> const& m) {
  return {m.a, m.b, m.c, m.d, m.e, m.f};
}

/// `placed`, which is from the source, from the page that was laid by `record`. Nothing where a matrix cannot be undone.
std::optional<Placement> from_laid(LayRecord const& record, Placement const& placed) {
  auto const back = record.placement.inverted();
  auto const uncorrected = placed.correction.inverted();
  if (!back || !uncorrected) return std::nullopt;
  auto const now = without_noise(then(of_laid<SeenSpace, SeenSpace>(*back), placed.matrix));
  // Corrections stretch each axis by itself; what is between them is a similarity.
  auto relative = taken_apart(then(then(of_laid<SeenSpace, SeenSpace>(record.correction), now), *uncorrected));
  relative.matrix = now;
  relative.correction = placed.correction;
  relative.ink = placed.ink;
  relative.outside = placed.outside;
  return relative;
}

struct OriginalPage {
  PlaceSubject subject;  // in the source's seen space
  Reading reading = Reading::unknown;
  LayRecord const* record = nullptr;  // there when the page was laid by us and its record holds
};

OriginalPage source_of(Page const& page, std::optional<Rect<SeenSpace>> const& ink, Reading reading_now, Target const& target) {
  OriginalPage s;
  s.reading = reading_now;
  if (!page.record || !page.record->holds) {
    s.subject = {ink, page.seen_trim(), page.seen.rect()};
    return s;
  }
  // The inner form is the source: what was measured when it was laid is taken as it is, so that laying twice is laying once.
  LayRecord const& r = *page.record;
  s.record = &r;
  if (r.reversed) s.reading = reversed(reading_now);
  s.subject = {r.source_ink, r.source_trim, r.source_seen.rect()};
  bool const as_found = r.white_prints == target.white_prints();
  if (r.ink_known && !as_found && r.other_ink_known) {
    s.subject.ink = r.other_ink;
  } else if (!r.ink_known || !as_found) {
    auto const back = r.placement.inverted();
    s.subject.ink.reset();
    if (back && ink) s.subject.ink = back->apply(Rect<SheetSpace>{ink->x0, ink->y0, ink->x1, ink->y1});
  }
  return s;
}

LayRecord record_of(Page const& page, OriginalPage const& source, Placement const& placement, Target const& target, PageReading const& reading,
                    bool ink_known) {
  LayRecord r;
  if (source.record) r = *source.record;
  r.holds = true;
  r.layright = program_version();
  r.target = target.name;
  r.sheet = target.sheet.page();
  r.placement = placement.matrix;
  r.correction = placement.correction;
  r.scale = placement.scale;
  r.turn = placement.turn;
  r.reversed = placement.reversed;
  r.reversed_later = placement.reversed_later;
  r.reading = source.reading;
  if (!source.record || reading.from != "record") r.reading_from = reading.from;
  bool const found_before = source.record && source.record->ink_known;
  if (!found_before) {
    r.ink_known = ink_known;
    r.source_ink = ink_known ? source.subject.ink : std::nullopt;
    r.white_prints = target.white_prints();
  }
  r.other_ink_known = found_before && ink_known && target.white_prints() != r.white_prints;
  r.other_ink = r.other_ink_known ? source.subject.ink : std::nullopt;
  r.source_trim = source.subject.trim;
  r.source_seen = source.record ? source.record->source_seen : page.seen;
  return r;
}

/// Whether the placement from the source reverses. Where nobody asks, or nobody knows, a laid page keeps the reversal that it has.
bool must_reverse(OriginalPage const& source, Target const& target) {
  auto const wanted = reading_of_file(target);
  bool const known = source.reading == Reading::right || source.reading == Reading::wrong;
  if (!wanted || !known) return source.record && source.record->reversed;
  return source.reading != *wanted;
}

/// Why `lay` may not reverse, or leave as it is, without a person; empty when it may.
std::string reading_refusal(PageReading const& reading, Page const& page, Target const& target, PlanOptions const& options) {
  if (!reading_of_file(target)) return {};
  auto const accepted = [&](char const* check) { return is_accepted(check, page, options); };
  if (!reading.conflict.empty() && !accepted("reading.conflict")) return reading.conflict;
  if (reading.reading == Reading::unknown && reading.letters == LettersSeen::none && !accepted("reading.none"))
    return "nothing on the page looks like letters, so nothing tells how it reads; say so with --incoming right or --incoming wrong";
  if (reading.reading == Reading::unknown && reading.letters != LettersSeen::none && !accepted("reading.unknown"))
    return "how the page reads is not understood; say so with --incoming right or --incoming wrong";
  if (reading.reading == Reading::mixed && !accepted("reading.mixed")) return "the page reads both ways";
  return {};
}

/// Where the page comes to lie, and whether that may be done as far as its reading goes.
PagePlan plan_by_placement(Page const& page, std::optional<Rect<SeenSpace>> const& ink, bool ink_known, PageReading const& reading,
                           Target const& target, PlanOptions const& options) {
  PagePlan plan;
  OriginalPage const source = source_of(page, ink, reading.reading, target);
  bool const reverse = must_reverse(source, target);
  plan.placed = source.record ? place_laid(*source.record, target, source.subject, reverse, options.unit)
                              : place_for(target, target.placement, source.subject, reverse, options.unit);
  if (auto* none = std::get_if<PlaceRefusal>(&*plan.placed)) {
    if (source.record) none->message += " (percentages are of the original, from which this page was laid)";
    else plan.as_asked = none->as_asked;
    plan.refusal = none->message;
    return plan;
  }
  Placement const from_source = std::get<Placement>(*plan.placed);
  if (source.record) {
    auto const now = from_laid(*source.record, from_source);
    if (!now) {
      plan.refusal = "the record in the page holds a placement that cannot be undone";
      return plan;
    }
    plan.placed = *now;
    plan.of_original = from_source.scale;
  }
  bool const blank = !source.subject.ink;
  if (!blank) plan.refusal = reading_refusal(reading, page, target, options);
  if (!plan.refusal.empty()) {
    plan.as_asked = std::get<Placement>(*plan.placed);
    return plan;
  }
  plan.placement = std::get<Placement>(*plan.placed);
  plan.record = record_of(page, source, from_source, target, reading, ink_known);
  return plan;
}

PagePlan refused(PagePlan plan, std::string why) {
  plan.placement.reset();
  plan.record.reset();
  plan.refusal = std::move(why);
  return plan;
}

}  // namespace

bool is_accepted(std::string_view check, Page const& page, PlanOptions const& options) {
  return options.accept.contains(check) || (page.record && page.record->holds && accepted_in(*page.record, check));
}

PagePlan plan_page(Page const& page, Marks const* marks, PageReading const& reading, Target const& target, PlanOptions const& options) {
  if (!page.usable) return refused({}, page.trouble);
  if (!page.clockwise) return refused({}, "Rotate " + page.rotate_as_written + " is no multiple of 90 degrees");
  auto plan = plan_by_placement(page, marks ? marks->ink : page.seen.rect(), marks != nullptr, reading, target, options);
  if (marks && !marks->whole && !is_accepted("file.damaged", page, options)) return refused(std::move(plan), marks->trouble);
  if (plan.record && page.annotations_losing_words > 0 && !is_accepted("annot.print", page, options))
    return refused(std::move(plan), lost_words_message(page.annotations_losing_words));
  if (!marks) {
    plan.placed.reset();  // checks of where ink comes to lie have nothing to go by
    if (plan.placement) plan.placement->ink.reset();
  }
  return plan;
}

void settle_holds(PagePlan& plan, std::vector<Finding>& findings, Page const& page, PlanOptions const& options) {
  std::set<std::string> decided;
  if (plan.record) decided.insert(plan.record->accepted.begin(), plan.record->accepted.end());
  for (Finding& f : findings) {
    if (f.level != Level::hold || f.suppressed) continue;
    if (!f.accepted && is_accepted(f.check, page, options)) {
      f.accepted = true;
      f.message += kAcceptedBefore;
    }
    if (f.accepted) decided.insert(f.check);
  }
  if (!plan.record) return;
  plan.record->accepted.assign(decided.begin(), decided.end());
  auto const open = std::ranges::find_if(findings, [](Finding const& f) { return f.level == Level::hold && !f.accepted && !f.suppressed; });
  if (open == findings.end()) return;
  plan.record.reset();
  plan.refusal = open->message;
}

}  // namespace layright
