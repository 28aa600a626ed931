#include "intake/inspect.h"

#include <algorithm>
#include <cmath>
#include <ctime>

#include "check/annotation_words.h"
#include "check/art.h"
#include "check/reading_sentence.h"
#include "intake/page_reading.h"
#include "place/correction.h"
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
  return relative;
}

struct Source {
  PlaceSubject subject;  // in the source's seen space
  Reading reading = Reading::unknown;
  LayRecord const* record = nullptr;  // there when the page was laid by us and its record holds
};

Source source_of(Page const& page, Marks const& marks, Reading reading_now, Target const& target) {
  Source s;
  s.reading = reading_now;
  if (!page.record || !page.record->holds) {
    s.subject = {marks.ink, page.seen_trim(), page.seen.rect()};
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
    if (back && marks.ink)
      s.subject.ink = back->apply(Rect<SheetSpace>{marks.ink->x0, marks.ink->y0, marks.ink->x1, marks.ink->y1});
  }
  return s;
}

LayRecord record_of(Page const& page, Source const& source, Placement const& placement, InspectWish const& wish,
                    PageReading const& reading, bool ink_known) {
  LayRecord r;
  if (source.record) r = *source.record;
  r.holds = true;
  r.layright = LAYRIGHT_VERSION;
  r.target = wish.target.name;
  r.sheet = wish.target.sheet.page();
  r.placement = placement.matrix;
  r.correction = placement.correction;
  r.scale = placement.scale;
  r.turn = placement.turn;
  r.reversed = placement.reversed;
  r.reversed_later = placement.reversed_later;
  r.reading = source.reading;
  if (!source.record || reading.from != "record") r.reading_from = reading.from;
  bool const white_prints = wish.target.white_prints();
  bool const found_before = source.record && source.record->ink_known;
  if (!found_before) {
    r.ink_known = ink_known;
    r.source_ink = ink_known ? source.subject.ink : std::nullopt;
    r.white_prints = white_prints;
  }
  r.other_ink_known = found_before && ink_known && white_prints != r.white_prints;
  r.other_ink = r.other_ink_known ? source.subject.ink : std::nullopt;
  r.source_trim = source.subject.trim;
  r.source_seen = source.record ? source.record->source_seen : page.seen;
  return r;
}

/// A person has decided it, now or when the page was laid.
bool is_accepted(std::string_view id, Page const& page, InspectWish const& wish) {
  return wish.selection.accept.contains(id) || (page.record && page.record->holds && accepted_in(*page.record, id));
}

/// Why `lay` may not reverse, or leave as it is, without a person; empty when it may.
std::string reading_refusal(PageReading const& reading, bool blank, Page const& page, InspectWish const& wish) {
  if (!reading_of_file(wish.target) || blank) return {};
  auto const accepted = [&](char const* id) { return is_accepted(id, page, wish); };
  if (!reading.conflict.empty() && !accepted("reading.conflict")) return reading.conflict;
  if (reading.reading == Reading::unknown && reading.letters == LettersSeen::none && !accepted("reading.none"))
    return "nothing on the page looks like letters, so nothing tells how it reads; say so with --incoming right or --incoming wrong";
  if (reading.reading == Reading::unknown && reading.letters != LettersSeen::none && !accepted("reading.unknown"))
    return "how the page reads is not understood; say so with --incoming right or --incoming wrong";
  if (reading.reading == Reading::mixed && !accepted("reading.mixed")) return "the page reads both ways";
  return {};
}

/// Whether the placement from the source reverses. Where nobody asks, or nobody knows, a laid page keeps the reversal that it has.
bool must_reverse(Source const& source, Target const& target) {
  auto const wanted = reading_of_file(target);
  bool const known = source.reading == Reading::right || source.reading == Reading::wrong;
  if (!wanted || !known) return source.record && source.record->reversed;
  return source.reading != *wanted;
}

void find_placement(InspectedPage& out, InspectWish const& wish, std::optional<PlaceResult>& result, bool ink_known = true) {
  Page const& page = out.report.page;
  Marks const& marks = *out.report.marks;
  Target const& target = wish.target;
  PageReading const reading = out.report.reading.value_or(PageReading{});
  Source const source = source_of(page, marks, reading.reading, target);
  bool const reverse = must_reverse(source, target);
  result = source.record ? place_laid(*source.record, target, source.subject, reverse, wish.unit)
                         : place_for(target, target.placement, source.subject, reverse, wish.unit);
  if (auto* refusal = std::get_if<PlaceRefusal>(&*result)) {
    if (source.record) refusal->message += " (percentages are of the original, from which this page was laid)";
    out.refusal = refusal->message;
    return;
  }
  Placement const placed = std::get<Placement>(*result);
  Placement relative = placed;
  if (source.record) {
    auto const now = from_laid(*source.record, placed);
    if (!now) {
      out.refusal = "the record in the page holds a placement that cannot be undone";
      return;
    }
    relative = *now;
    relative.ink = placed.ink;
    relative.outside = placed.outside;
    *result = relative;
  }
  if (source.record) out.report.of_original = placed.scale;
  out.now_to_sheet = relative.matrix;
  out.refusal = reading_refusal(reading, !source.subject.ink, page, wish);
  if (!out.refusal.empty()) return;
  out.report.placement = relative;
  out.laid = LaidPage{page, placed.matrix, record_of(page, source, placed, wish, reading, ink_known)};
}

struct Needs {
  bool marks, ink, images, reading, placement, art;
};

Needs needs_of(InspectWish const& wish, bool for_lay) {
  Selection const& s = wish.selection;
  bool const asked = reading_of_file(wish.target).has_value();
  bool const all = s.only.empty();
  Needs n{};
  n.placement = for_lay || all || s.wants_marks();
  n.ink = n.placement;
  n.images = wish.tell_images || (all && !for_lay);
  n.reading = for_lay ? asked : s.wants_reading();  // where nobody asks, lay does not look
  n.marks = n.placement || n.images || n.reading;
  n.art = s.wants_art();
  return n;
}

constexpr int kShortFile = 20;  // pages, at most: such a file is looked at as the press will draw it without being asked

/// Whether what weeds is looked for though nobody names it.
bool weeds_unasked(InspectWish const& wish, int page_count) {
  if (!wish.weed_unasked || page_count > kShortFile || !wish.selection.only.empty()) return false;
  auto const told = [&](char const* id) {
    auto const level = wish.target.levels.find(id);
    return wish.selection.wants(id) && (level == wish.target.levels.end() || level->second != CheckLevel::off);
  };
  return told("ink.island") || told("ink.gap");
}

double processor_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

/// Unasked it may take a part of the page's time only: a page must not be held for want of time because of notes.
std::optional<PageWeed> weed_unasked(PageTools const& tools, Page const& page, Rect<SeenSpace> const& ink, WeedWanted wanted, double limit, double taken) {
  constexpr double kPart = 1.0 / 3, kHeavy = 1.0 / 6;
  if (page.number == tools.not_to_weed || taken > kHeavy * limit) return PageWeed{{}, {}, wanted.dpi, 0};  // drawing takes longer than reading
  wanted.seconds = kPart * limit;
  if (tools.before_weeding) tools.before_weeding();
  return tools.marks->weed(page, ink, wanted);
}

}  // namespace

/// A page whose whole sight comes to lie inside the live area can be placed without looking at its ink, which lies inside it as well: where
/// nobody asks for a check that would look at it.
bool placed_blindly(InspectedPage& out, InspectWish const& wish) {
  std::optional<PlaceResult> placed;
  out.report.marks.emplace().ink = out.report.page.seen.rect();
  find_placement(out, wish, placed, false);
  out.report.marks.reset();
  out.refusal.clear();
  if (out.report.placement) out.report.placement->ink.reset();
  return out.laid.has_value();
}

/// What is held stays where it would lie, so that a person can look at it; but it is not laid.
void settle_holds(InspectedPage& out, InspectWish const& wish) {
  auto& report = out.report;
  Page const& page = report.page;
  std::set<std::string> decided;
  if (out.laid) decided.insert(out.laid->record.accepted.begin(), out.laid->record.accepted.end());
  for (Finding& f : report.findings) {
    if (f.level != Level::hold || f.suppressed) continue;
    if (!f.accepted && is_accepted(f.check, page, wish)) {
      f.accepted = true;
      f.message += kAcceptedBefore;
    }
    if (f.accepted) decided.insert(f.check);
  }
  report.verdict = verdict_of(report.findings);
  if (!out.laid) return;
  out.laid->record.accepted.assign(decided.begin(), decided.end());
  auto const held = std::ranges::find_if(report.findings, [](Finding const& f) { return f.level == Level::hold && !f.accepted && !f.suppressed; });
  if (held == report.findings.end()) return;
  out.laid.reset();
  out.refusal = held->message;
}

void refuse(InspectedPage& out, std::string why) {
  out.laid.reset();
  out.report.placement.reset();
  out.refusal = std::move(why);
}

InspectedPage inspect_page(Document const& document, PageTools const& tools, int number, InspectWish const& wish, bool for_lay) {
  InspectedPage out;
  auto& report = out.report;
  report.page = document.page(number);
  Page const& page = report.page;
  Needs const needs = needs_of(wish, for_lay);
  bool const looked_at = page.usable && page.clockwise && tools.marks && needs.marks;
  std::optional<PlaceResult> placed;
  PageReading reading;
  double reading_seconds = 0;
  bool const may_be_blind = for_lay && looked_at && !tools.tape && !needs.reading && wish.target.placement.by != PlaceBy::ink && !wish.selection.wants_marks();
  if (may_be_blind && placed_blindly(out, wish)) {
    report.tell_placement = true;
  } else if (looked_at) {
    MarksWanted wanted;
    wanted.ink = needs.ink;
    wanted.white_prints = wish.target.white_prints();
    // Hidden text tells only where it lies on a picture.
    wanted.images = needs.images || needs.reading || wish.selection.wants("image.orientation");
    wanted.seconds = wish.target.limits.seconds_a_page;
    wanted.frames = wish.selection.wants("ink.guide");
    wanted.cut = wish.selection.wants("ink.cut");
    wanted.text = needs.reading;
    wanted.art = needs.ink && needs.art;
    wanted.tape = tools.tape;
    double const begun = processor_seconds();
    report.marks = tools.marks->read(page, wanted);
    reading_seconds = processor_seconds() - begun;
    report.tell_ink = needs.ink;
    report.tell_images = needs.images;
    auto found = reading_of_page(page, *report.marks, *tools.marks, tools.letters, wish.target, {needs.reading, wish.check_letters, wish.incoming});
    reading = std::move(found.reading);
    out.asks_letters = found.asks_letters;
    if (needs.reading) report.reading = reading;
    if (needs.reading && reading_of_file(wish.target) && report.marks->ink) report.reading_sentence = reading_sentence(reading, wish.target);
    if (needs.placement) find_placement(out, wish, placed);
    report.tell_placement = needs.placement;
    if (!report.marks->whole && !is_accepted("file.damaged", page, wish)) refuse(out, report.marks->trouble);
  } else if (needs.placement && (!page.usable || !page.clockwise)) {
    report.tell_placement = true;
    out.refusal = page.usable ? "Rotate " + page.rotate_as_written + " is no multiple of 90 degrees" : page.trouble;
  }
  if (out.laid && page.annotations_losing_words > 0 && !is_accepted("annot.print", page, wish))
    refuse(out, lost_words_message(page.annotations_losing_words));
  // What a page shows that was not wholly read, such as a picture that cannot be decoded, is no measure of its ink; the page is held.
  bool const whole = looked_at && (!report.marks || report.marks->whole);
  if (whole && (wish.inks || wish.selection.wants_inks(wish.target))) {
    auto const& limits = wish.target.limits;
    report.inks = tools.marks->inks(page, {limits.total_ink_pct, limits.white_inks, limits.white_under_pct});
  }
  std::optional<PageWeed> weed;
  if (whole && report.marks && report.marks->ink) {
    auto const weeds = weed_wanted(wish.target, placed ? &*placed : nullptr);
    if (wish.selection.wants_weed(wish.target)) weed = tools.marks->weed(page, *report.marks->ink, weeds);
    else if (weeds_unasked(wish, document.page_count()))
      weed = weed_unasked(tools, page, *report.marks->ink, weeds, wish.target.limits.seconds_a_page, reading_seconds);
  }
  if (whole && report.placement && !wish.target.press.toner.empty())
    if (auto const toner = tools.marks->toner(page, own_toners(wish.target)))
      report.toner = toner_cost(wish.target, *toner, page.seen, report.placement->scale);
  if (report.marks && report.marks->art) report.structure = document.art_of_page(number);
  PageView const view{page,        report.marks ? &*report.marks : nullptr, reading, placed ? &*placed : nullptr, wish.target, wish.unit,
                      report.structure ? &*report.structure : nullptr, tools.file_art, report.inks ? &*report.inks : nullptr, weed ? &*weed : nullptr};
  report.findings = check_page(view, wish.selection);
  if (auto const broken = broken_claims(view)) out.claims_hold = broken->empty();
  settle_holds(out, wish);
  return out;
}

}  // namespace layright
