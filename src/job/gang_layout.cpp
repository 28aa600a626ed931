#include "job/gang_layout.h"

#include <algorithm>
#include <cmath>

#include "base/sha256.h"
#include "base/version.h"
#include "gang/ink_shape.h"
#include "gang/straight_cuts.h"
#include "place/correction.h"
#include "place/register_marks.h"

namespace layright {
namespace {

constexpr double kMarkAway = 2, kMarkLength = 5, kShortestMark = 2;        // of cut marks, in points. Our own
constexpr double kLabelHeight = 6, kLeastLabelHeight = 4, kLabelAway = 3;  // of labels. Our own: 4 pt can just be read
constexpr double kClear = 1;                                               // that marks keep from pieces and from each other

/// One copy of a page: where it lies on its sheet before the press's correction.
struct PlacedCopy {
  std::size_t page;
  int copy, sheet;
  Rect<SheetSpace> box;
  Matrix<SheetSpace, SheetSpace> movement;  // from where it was laid, before the correction too
};

double used_pct(GangReport const& report, Rect<SheetSpace> const& live) {
  double used = 0;
  for (auto const& copy : report.copies) used += copy.area;
  return 100 * used / (live.area() * report.sheets);
}

class GangPlanner {
 public:
  GangPlanner(std::vector<WantedPage> const& pages, Target const& target, GangOptions const& options)
      : pages_(pages), target_(target), options_(options), correction_(correction_of(target)), back_(*correction_.inverted()) {
    live_ = live_area_of_gang(target);
  }

  Result<GangPlan> plan(Unit unit) {
    std::vector<GangPiece> pieces;
    std::vector<std::pair<std::size_t, int>> copies;
    for (std::size_t p = 0; p < pages_.size(); ++p) {
      auto const ink = back_.apply(*pages_[p].placement.ink);
      GangPiece const piece{ink.width(), ink.height(), pages_[p].turns, pages_[p].shape};
      if (!fits_sheet(piece, rules())) return too_large(pages_[p], ink, unit);
      if (copies.size() + static_cast<std::size_t>(pages_[p].count) > kMostPieces)
        return Error{ErrorKind::usage, "more than " + std::to_string(kMostPieces) + " pieces cannot be meant: make several orders"};
      for (int copy = 1; copy <= pages_[p].count; ++copy) {
        pieces.push_back(piece);
        copies.emplace_back(p, copy);
      }
    }
    auto const layout = arrange_gang(pieces, rules());
    if (!layout) return Error{ErrorKind::internal, "the pieces cannot be arranged; please report it"};
    for (auto const& slot : layout->slots) {
      auto const [page, copy] = copies[slot.piece];
      placed_.push_back(placed(page, copy, slot));
    }
    return written(*layout);
  }

 private:
  GangRules rules() const { return {live_.width(), live_.height(), options_.gap.in_points(), options_.cuts}; }

  static Error too_large(WantedPage const& page, Rect<SheetSpace> const& ink, Unit unit) {
    return {ErrorKind::hold, page.path + ", page " + std::to_string(page.page) + ": " +
                                 format_size(Length::points(ink.width()), Length::points(ink.height()), unit) +
                                 " fits no sheet in the turns that it may have"};
  }

  PlacedCopy placed(std::size_t page, int copy, GangSlot const& slot) const {
    auto const ink = back_.apply(*pages_[page].placement.ink);
    auto const turn = rotation<SheetSpace, SheetSpace>(slot.turn);
    auto const turned = turn.apply(ink);
    auto const movement = then(turn, translation<SheetSpace>(live_.x0 + slot.x - turned.x0, live_.y0 + slot.y - turned.y0));
    return {page, copy, slot.sheet, movement.apply(ink), movement};
  }

  GangPlan written(GangLayout const& layout) const {
    GangPlan plan;
    plan.live = correction_.apply(live_);
    plan.report.sheets = layout.sheets;
    plan.report.bound = layout.bound;
    plan.report.alone = static_cast<int>(placed_.size());
    plan.report.currency = target_.press.currency;
    if (reverses_later(target_)) plan.report.mirrored_width = target_.sheet.page().width();
    plan.report.sheet_price = target_.sheet.price;
    for (int sheet = 0; sheet < layout.sheets; ++sheet) {
      std::vector<PlacedCopy const*> here;
      for (auto const& copy : placed_)
        if (copy.sheet == sheet) here.push_back(&copy);
      plan.sheets.push_back(sheet_of(here, plan.report));
      if (options_.cuts == Cuts::straight) add_cuts(here, sheet + 1, plan.report);
    }
    for (auto const& copy : placed_) plan.report.copies.push_back(reported(copy));
    if (layout.sheets > 0) plan.report.used_pct = used_pct(plan.report, live_);
    return plan;
  }

  GangedCopy reported(PlacedCopy const& copy) const {
    auto const& page = pages_[copy.page];
    auto const movement = then(back_, then(copy.movement, correction_));
    return {page.path,
            page.sha256,
            page.page,
            copy.copy,
            page.count,
            copy.sheet + 1,
            pdf_page(copy.sheet + 1),
            page.label,
            then(page.placement.matrix, movement),
            correction_.apply(copy.box),
            page.shape ? page.shape->area() : copy.box.area()};
  }

  /// Where plates are pages of their own, each stands beside its sheet.
  int pdf_page(int sheet) const {
    bool const between = wants_plate(target_, PlateAs::page);
    return !between ? sheet : target_.plate.first ? 2 * sheet : 2 * sheet - 1;
  }

  GangSheetPlan sheet_of(std::vector<PlacedCopy const*> const& here, GangReport& report) const {
    GangSheetPlan plan;
    std::string composed;
    std::optional<Rect<SheetSpace>> ink;
    for (auto const* copy : here) {
      auto const& page = pages_[copy->page];
      plan.sheet.pieces.push_back({page.laid, then(back_, copy->movement), page.sha256 + " " + std::to_string(page.page)});
      plan.cut_boxes.push_back(correction_.apply(copy->box));
      ink = united(ink, std::optional(copy->box));
      composed += page.sha256 + " " + std::to_string(page.page) + "\n";
    }
    plan.sheet.marks = marks_of(here, report);
    for (auto const& mark : plan.sheet.marks) ink = united(ink, std::optional(mark.extents()));
    plan.sheet.record = record_of(ink, composed);
    return plan;
  }

  /// The sheet is a source of its own, which lies where it is and only carries the press's correction.
  LayRecord record_of(std::optional<Rect<SheetSpace>> const& ink, std::string const& composed) const {
    auto const page = target_.sheet.page();
    LayRecord r;
    r.holds = true;
    r.layright = program_version();
    r.source_sha256 = sha256_hex(std::as_bytes(std::span(composed)));
    r.target = target_.name;
    r.sheet = page;
    r.placement = {correction_.a, correction_.b, correction_.c, correction_.d, correction_.e, correction_.f};
    r.correction = correction_;
    r.reversed_later = reverses_later(target_);
    r.reading_from = "record";
    r.source_seen = {page.width(), page.height()};
    if (ink) r.source_ink = Rect<SeenSpace>{ink->x0, ink->y0, ink->x1, ink->y1};
    r.source_trim = {page.x0, page.y0, page.x1, page.y1};
    r.white_prints = target_.white_prints();
    return r;
  }

  /// In the gap and inside the live area, clear of pieces and of each other; what has no room is left out.
  std::vector<SheetMark> marks_of(std::vector<PlacedCopy const*> const& here, GangReport& report) const {
    std::vector<SheetMark> marks;
    std::vector<Rect<SheetSpace>> taken;
    auto const has_room = [&](Rect<SheetSpace> const& where) {
      return live_.contains(where) &&
             std::ranges::none_of(here, [&](auto const* c) { return intersection(c->box.grown(kClear), where).has_value(); }) &&
             std::ranges::none_of(taken, [&](auto const& t) { return intersection(t.grown(kClear), where).has_value(); });
    };
    double const half = options_.gap.in_points() / 2;
    double const length = std::min(kMarkLength, half - kMarkAway - kClear / 2);
    if (options_.marks && length >= kShortestMark)
      for (auto const* copy : here)
        for (auto& mark : corner_marks(copy->box, kMarkAway, length)) {
          auto const where = mark.extents();
          // Marks of two neighbours may meet at one corner of the sheet: one will do.
          if (!live_.contains(where) ||
              std::ranges::any_of(here, [&](auto const* c) { return intersection(c->box.grown(kClear), where).has_value(); }))
            continue;
          taken.push_back(where);
          marks.push_back(std::move(mark));
        }
    if (!options_.labels) return marks;
    for (auto const* copy : here) {
      bool found = false;
      for (auto& label : label_places(*copy, half)) {
        if (found || !has_room(label.extents())) continue;
        found = true;
        taken.push_back(label.extents());
        marks.push_back(std::move(label));
      }
      report.labels_left_out += !found;
    }
    return marks;
  }

  std::string label_text(PlacedCopy const& copy) const {
    auto const& page = pages_[copy.page];
    return page.label + (page.count > 1 ? " " + std::to_string(copy.copy) + "/" + std::to_string(page.count) : "");
  }

  /// Below, above, to the right and to the left of the piece, the best place first. It reads right on the printed sheet.
  std::vector<SheetMark> label_places(PlacedCopy const& copy, double half) const {
    double const height = std::min(kLabelHeight, half - kLabelAway);
    if (height < kLeastLabelHeight) return {};
    auto const text = label_text(copy);
    double const width = label_width(text, height);
    auto const flat = label_mark(text, {0, 0}, height);
    auto const& box = copy.box;
    std::vector<SheetMark> places;
    auto const add = [&](SheetMark const& mark, double wide, double x, double y) {
      auto const mirror = reverses_later(target_) ? Matrix<SheetSpace, SheetSpace>{-1, 0, 0, 1, wide, 0} : Matrix<SheetSpace, SheetSpace>{};
      places.push_back(moved(moved(mark, mirror), translation<SheetSpace>(x, y)));
    };
    double const inset = kMarkAway + kClear;
    auto const upright = moved(flat, then(rotation<SheetSpace, SheetSpace>(Turn::quarter), translation<SheetSpace>(height, 0)));
    double const below = box.y0 - kLabelAway - height, above = box.y1 + kLabelAway, right = box.x1 + kLabelAway, left = box.x0 - kLabelAway - height;
    for (double const x : {box.x0 + inset, (box.x0 + box.x1 - width) / 2, box.x1 - inset - width})
      for (double const y : {below, above}) add(flat, width, x, y);
    for (double const y : {box.y0 + inset, (box.y0 + box.y1 - width) / 2, box.y1 - inset - width})
      for (double const x : {right, left}) add(upright, height, x, y);
    return places;
  }

  void add_cuts(std::vector<PlacedCopy const*> const& here, int sheet, GangReport& report) const {
    std::vector<Rect<SheetSpace>> boxes;
    for (auto const* copy : here) boxes.push_back(copy->box);
    for (auto const& cut : straight_cuts(boxes, live_)) {
      auto const line =
          correction_.apply(cut.across ? Rect<SheetSpace>{cut.from, cut.at, cut.to, cut.at} : Rect<SheetSpace>{cut.at, cut.from, cut.at, cut.to});
      report.cuts.push_back(cut.across ? StraightCut{sheet, true, line.y0, line.x0, line.x1} : StraightCut{sheet, false, line.x0, line.y0, line.y1});
    }
  }

  std::vector<WantedPage> const& pages_;
  Target const& target_;
  GangOptions const& options_;
  Matrix<SheetSpace, SheetSpace> correction_, back_;
  Rect<SheetSpace> live_;
  std::vector<PlacedCopy> placed_;
};

}  // namespace

Rect<SheetSpace> live_area_of_gang(Target const& target) {
  auto live = correction_of(target).inverted()->apply(live_area_of_file(target));
  if (!target.plate.register_marks || target.plate.from == PlateFrom::off) return live;
  live.y0 += kRegisterRoom;
  live.y1 -= kRegisterRoom;
  return live;
}

Rect<SheetSpace> ink_of_piece(Placement const& placement, Target const& target) { return correction_of(target).inverted()->apply(*placement.ink); }

Result<GangPlan> only_sheet(GangPlan plan, int sheet) {
  if (sheet < 1 || sheet > plan.report.sheets)
    return usage_error("there is no sheet " + std::to_string(sheet) + ": the order makes " + std::to_string(plan.report.sheets));
  plan.sheets = {plan.sheets[static_cast<std::size_t>(sheet - 1)]};
  auto& report = plan.report;
  auto const number = [](auto& each) { each.sheet = 1; };
  // A plate's page stands before or behind each sheet, or nowhere.
  for (auto& copy : report.copies) copy.pdf_page = copy.pdf_page == copy.sheet ? 1 : copy.pdf_page - 2 * (copy.sheet - 1);
  std::erase_if(report.copies, [&](GangedCopy const& copy) { return copy.sheet != sheet; });
  std::erase_if(report.cuts, [&](StraightCut const& cut) { return cut.sheet != sheet; });
  std::ranges::for_each(report.copies, number);
  std::ranges::for_each(report.cuts, number);
  report.sheets = report.bound = 1;
  report.alone = static_cast<int>(report.copies.size());
  report.used_pct = used_pct(report, plan.live);
  return plan;
}

Result<GangPlan> plan_gang(std::vector<WantedPage> const& pages, Target const& target, GangOptions const& options, Unit unit) {
  return GangPlanner(pages, target, options).plan(unit);
}

}  // namespace layright
