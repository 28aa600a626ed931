#include "job/inspect.h"

#include <algorithm>
#include <ctime>

#include "check/art.h"
#include "check/reading_sentence.h"
#include "job/page_reading.h"
#include "place/correction.h"

namespace layright {
namespace {

struct Needs {
  bool marks, ink, images, reading, placement, art;
};

Needs needs_of(InspectOptions const& options, bool for_lay) {
  Selection const& s = options.selection;
  bool const asked = reading_of_file(options.target).has_value();
  bool const all = s.only.empty();
  Needs n{};
  n.placement = for_lay || all || s.wants_marks();
  n.ink = n.placement;
  n.images = options.report_images || (all && !for_lay);
  n.reading = for_lay ? asked : s.wants_reading();  // where nobody asks, lay does not look
  n.marks = n.placement || n.images || n.reading;
  n.art = s.wants_art();
  return n;
}

constexpr int kShortFile = 20;  // pages, at most: such a file is looked at as the press will draw it without being asked

/// Whether what weeds is looked for though nobody names it.
bool weeds_unasked(InspectOptions const& options, int page_count) {
  if (!options.weed_unasked || page_count > kShortFile || !options.selection.only.empty()) return false;
  auto const reported = [&](char const* id) {
    auto const level = options.target.levels.find(id);
    return options.selection.wants(id) && (level == options.target.levels.end() || level->second != CheckLevel::off);
  };
  return reported("ink.island") || reported("ink.gap");
}

double processor_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

/// Unasked it may take a part of the page's time only: a page must not be held for want of time because of notes.
std::optional<PageWeed> weed_unasked(PageTools const& tools, Page const& page, Rect<SeenSpace> const& ink, WeedWanted wanted, double limit,
                                     double taken) {
  constexpr double kPart = 1.0 / 3, kHeavy = 1.0 / 6;
  if (page.number == tools.not_to_weed || taken > kHeavy * limit) return PageWeed{{}, {}, wanted.dpi, 0};  // drawing takes longer than reading
  wanted.seconds = kPart * limit;
  if (tools.before_weeding) tools.before_weeding();
  return tools.marks->weed(page, ink, wanted);
}

/// A page whose whole sight comes to lie inside the live area can be placed without looking at its ink, which lies inside it as well: where
/// nobody asks for a check that would look at it.
bool may_be_placed_unseen(PageTools const& tools, InspectOptions const& options, Needs const& needs) {
  return !tools.trace && !needs.reading && options.target.placement.by != PlaceBy::ink && !options.selection.wants_marks();
}

/// It is printed as it is, on the sheet that it was made for.
void look_at_plate(InspectedPage& plate, InspectOptions const& options) {
  PageReading const unread;
  Selection sheet;
  for (auto const* id : {"page.size", "page.feed"})
    if (options.selection.wants(id)) sheet.only.insert(id);
  if (!sheet.only.empty()) plate.report.findings = check_page({plate.report.page, nullptr, unread, nullptr, options.target, options.unit}, sheet);
  plate.report.verdict = verdict_of(plate.report.findings);
}

}  // namespace

InspectedPage inspect_page(Document const& document, PageTools const& tools, int number, InspectOptions const& options, bool for_lay) {
  InspectedPage out;
  auto& report = out.report;
  report.page = document.page(number);
  Page const& page = report.page;
  if (page.is_plate()) return look_at_plate(out, options), out;
  Needs const needs = needs_of(options, for_lay);
  bool const looked_at = page.usable && page.clockwise && tools.marks && needs.marks;
  PlanOptions const plan_options{options.unit, options.selection.accept};
  PagePlan& plan = out.plan;
  PageReading reading;
  double reading_seconds = 0;
  if (for_lay && looked_at && may_be_placed_unseen(tools, options, needs)) plan = plan_page(page, nullptr, reading, options.target, plan_options);
  if (looked_at && !plan.record) {
    MarksWanted wanted;
    wanted.ink = needs.ink;
    wanted.white_prints = options.target.white_prints();
    // Hidden text tells only where it lies on a picture.
    wanted.images = needs.images || needs.reading || options.selection.wants("image.orientation");
    wanted.seconds = options.target.limits.seconds_a_page;
    wanted.frames = options.selection.wants("ink.guide");
    wanted.cut = options.selection.wants("ink.cut");
    wanted.text = needs.reading;
    wanted.art = needs.ink && needs.art;
    wanted.also = tools.trace;
    double const begun = processor_seconds();
    report.marks = tools.marks->read(page, wanted);
    reading_seconds = processor_seconds() - begun;
    report.report_ink = needs.ink;
    report.report_images = needs.images;
    auto found =
        reading_of_page(page, *report.marks, *tools.marks, tools.letters, options.target, {needs.reading, options.check_letters, options.incoming});
    reading = std::move(found.reading);
    out.asks_letters = found.asks_letters;
    if (needs.reading) report.reading = reading;
    if (needs.reading && reading_of_file(options.target) && report.marks->ink) report.reading_sentence = reading_sentence(reading, options.target);
    if (needs.placement) plan = plan_page(page, &*report.marks, report.reading.value_or(PageReading{}), options.target, plan_options);
  } else if (needs.placement && (!page.usable || !page.clockwise)) {
    plan = plan_page(page, nullptr, reading, options.target, plan_options);
  }
  report.report_placement = needs.placement && (looked_at || !page.usable || !page.clockwise);
  report.placement = plan.placement;
  report.as_asked = plan.as_asked;
  report.of_original = plan.of_original;
  PlaceResult const* const placed = plan.placed ? &*plan.placed : nullptr;
  // What a page shows that was not wholly read, such as a picture that cannot be decoded, is no measure of its ink; the page is held.
  bool const whole = looked_at && (!report.marks || report.marks->whole);
  if (whole && (options.inks || options.selection.wants_inks(options.target))) {
    auto const& limits = options.target.limits;
    report.inks = tools.marks->inks(page, {limits.total_ink_pct, limits.white_inks, limits.white_under_pct});
  }
  std::optional<PageWeed> weed;
  if (whole && report.marks && report.marks->ink) {
    auto const weeds = weed_wanted(options.target, placed);
    if (options.selection.wants_weed(options.target)) weed = tools.marks->weed(page, *report.marks->ink, weeds);
    else if (weeds_unasked(options, document.page_count()))
      weed = weed_unasked(tools, page, *report.marks->ink, weeds, options.target.limits.seconds_a_page, reading_seconds);
  }
  if (report.marks && report.marks->art) report.structure = document.art_of_page(number);
  std::optional<PagePlate> plate;
  if (whole && !for_lay && report.marks && report.marks->ink && options.selection.wants_plate(options.target)) {
    NoPlate why{};
    plate = tools.marks->plate(page, plate_wanted(options.target, placed), why);
    if (plate) report.plate = plate->notes;
  }
  if (whole && report.placement && !options.target.press.toner.empty())
    if (auto const toner = tools.marks->toner(page, own_toners(options.target)))
      report.toner = toner_cost(options.target, *toner, page.seen, report.placement->scale,
                                report.plate ? std::optional(report.plate->white_pt2) : std::nullopt);
  PageView const view{page,
                      report.marks ? &*report.marks : nullptr,
                      reading,
                      placed,
                      options.target,
                      options.unit,
                      report.structure ? &*report.structure : nullptr,
                      tools.file_art,
                      report.inks ? &*report.inks : nullptr,
                      weed ? &*weed : nullptr,
                      plate ? &plate->notes : nullptr};
  report.findings = check_page(view, options.selection);
  if (auto const broken = broken_claims(view)) out.claims_hold = broken->empty();
  settle_holds(plan, report.findings, page, plan_options);
  report.verdict = verdict_of(report.findings);
  return out;
}

}  // namespace layright
