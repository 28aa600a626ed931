#include "check/check.h"

#include <algorithm>
#include <array>
#include <iterator>

#include "check/common.h"
#include "check/rows.h"

namespace layright {
namespace {

auto const& table() {
  static std::array const rows{page_size(),
                               page_feed(),
                               page_rotate(),
                               page_unit(),
                               page_boxes(),
                               page_crop(),
                               page_mixed(),
                               page_correction(),
                               page_missing(),
                               ink_margin(),
                               ink_edge(),
                               ink_size(),
                               ink_blank(),
                               ink_cut(),
                               ink_guide(),
                               image_orientation(),
                               file_missing(),
                               file_format(),
                               file_damaged(),
                               file_password(),
                               file_permission(),
                               file_limit(),
                               view_scale(),
                               annot_print(),
                               layer_hidden(),
                               layer_differs(),
                               active_content(),
                               file_converted(),
                               picture_density(),
                               picture_turned(),
                               picture_alpha(),
                               reading_unknown(),
                               reading_none(),
                               reading_mixed(),
                               reading_conflict(),
                               reading_reverse(),
                               press_mirror(),
                               picture_ppi(),
                               picture_fine(),
                               picture_square(),
                               picture_jpeg(),
                               picture_mirror(),
                               picture_alternate(),
                               picture_smooth(),
                               picture_fade(),
                               picture_mask(),
                               line_thin(),
                               line_reversed(),
                               text_small(),
                               text_tint(),
                               text_reversed(),
                               text_outlined(),
                               font_embedded(),
                               font_damaged(),
                               font_type(),
                               font_missing(),
                               colour_space(),
                               colour_intent(),
                               colour_profile(),
                               colour_black(),
                               colour_registration(),
                               colour_spot(),
                               colour_twin(),
                               colour_transfer(),
                               colour_overprint(),
                               white_paint(),
                               white_half(),
                               white_plate(),
                               white_under(),
                               white_lost(),
                               white_twice(),
                               white_register(),
                               white_thin(),
                               white_rim(),
                               white_dots(),
                               white_none(),
                               page_ground(),
                               ink_faint(),
                               page_blend(),
                               page_scan(),
                               page_marks(),
                               file_claim(),
                               file_dropped(),
                               ink_total(),
                               ink_island(),
                               ink_gap()};
  return rows;
}

void add(std::vector<Finding>& all, std::vector<Finding> more) {
  all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

void mark_accepted(std::vector<Finding>& findings, Selection const& selection) {
  for (Finding& f : findings) f.accepted = f.level == Level::hold && selection.accept.contains(f.check);
}

/// Told although nobody asked: see check_page in the header.
bool always_reported(CheckInfo const& info, PageView const& view, Selection const& selection) {
  bool const damage = info.id == "file.damaged", limit = info.id == "file.limit";
  if (!can_be_seen(view.page)) return damage || info.id == "page.boxes" || info.id == "page.rotate";
  bool const half_read = view.marks && !view.marks->whole;
  return half_read && (damage || limit) && !selection.skip.contains(info.id);
}

/// Asked for by its name, by a person or by the target's profile.
bool named(Selection const& selection, Target const& target, std::string_view id) {
  auto const level = target.levels.find(id);
  return (selection.only.contains(id) || (level != target.levels.end() && level->second != CheckLevel::off)) && selection.wants(id);
}

}  // namespace

std::span<CheckInfo const> all_checks() { return table(); }

CheckInfo const* find_check(std::string_view id) {
  auto const found = std::ranges::find(table(), id, &CheckInfo::id);
  return found == table().end() ? nullptr : &*found;
}

bool Selection::wants(std::string_view id) const {
  if (skip.contains(id)) return false;
  return only.empty() || only.contains(id);
}

bool Selection::wants_marks(bool reading_known) const {
  return std::ranges::any_of(table(), [&](CheckInfo const& c) { return c.needs_marks && !(c.needs_reading && reading_known) && wants(c.id); });
}

bool Selection::wants_art() const {
  return std::ranges::any_of(table(), [&](CheckInfo const& c) { return c.needs_art && wants(c.id); });
}

bool Selection::wants_inks(Target const& target) const {
  return std::ranges::any_of(table(), [&](CheckInfo const& c) { return c.needs_inks && named(*this, target, c.id); });
}

bool Selection::wants_weed(Target const& target) const {
  return std::ranges::any_of(table(), [&](CheckInfo const& c) { return c.needs_weed && named(*this, target, c.id); });
}

bool Selection::wants_plate(Target const& target) const {
  return target.plate.from != PlateFrom::off && std::ranges::any_of(table(), [&](CheckInfo const& c) { return c.needs_plate && wants(c.id); });
}

bool Selection::wants_reading() const {
  return std::ranges::any_of(table(), [&](CheckInfo const& c) { return c.needs_reading && wants(c.id); });
}

void apply_levels(std::vector<Finding>& findings, CheckLevels const& levels) {
  for (Finding& f : findings) {
    auto const asked = levels.find(f.check);
    if (asked == levels.end()) continue;
    if (asked->second == CheckLevel::off) f.suppressed = true;
    else f.level = asked->second == CheckLevel::hold ? Level::hold : Level::note;
  }
}

bool level_is_free(std::string_view id) {
  static constexpr std::array<std::string_view, 6> kFixed{"file.missing",    "file.damaged", "file.password",
                                                          "file.permission", "file.limit",   "page.missing"};
  return std::ranges::find(kFixed, id) == kFixed.end();
}

bool can_be_accepted(std::string_view id) {
  static constexpr std::array<std::string_view, 10> kMustBeMended{"file.missing", "file.password", "file.limit", "page.missing", "page.boxes",
                                                                  "page.rotate",  "ink.size",      "ink.margin", "ink.edge",     "white.register"};
  return std::ranges::find(kMustBeMended, id) == kMustBeMended.end();
}

std::vector<Finding> check_page(PageView const& view, Selection const& selection) {
  std::vector<Finding> findings;
  for (CheckInfo const& info : table()) {
    if (!info.page) continue;
    bool const wanted = selection.wants(info.id);
    if (!wanted && !always_reported(info, view, selection)) continue;
    auto reported = info.page(view);
    if (!wanted) std::erase_if(reported, [](Finding const& f) { return f.level != Level::hold; });
    add(findings, std::move(reported));
  }
  apply_levels(findings, view.target.levels);
  mark_accepted(findings, selection);
  return findings;
}

std::vector<Finding> check_plate(PageView const& view, Selection const& selection) {
  std::vector<Finding> findings;
  for (CheckInfo const& info : table())
    if (info.needs_plate && selection.wants(info.id)) add(findings, info.page(view));
  apply_levels(findings, view.target.levels);
  mark_accepted(findings, selection);
  return findings;
}

std::vector<Finding> check_source(SourceView const& view, Selection const& selection) {
  std::vector<Finding> findings;
  for (CheckInfo const& info : table()) {
    if (!info.source_check) continue;
    auto reported = info.source_check(view);
    if (!selection.wants(info.id)) std::erase_if(reported, [](Finding const& f) { return f.level != Level::hold; });
    add(findings, std::move(reported));
  }
  mark_accepted(findings, selection);
  return findings;
}

std::vector<Finding> check_file(FileView const& view, Selection const& selection) {
  std::vector<Finding> findings;
  for (CheckInfo const& info : table()) {
    if (info.file && selection.wants(info.id)) add(findings, info.file(view));
  }
  apply_levels(findings, view.target.levels);
  mark_accepted(findings, selection);
  return findings;
}

}  // namespace layright
