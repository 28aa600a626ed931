#include "check/art.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace layright {
namespace {

constexpr double kNoise = 1e-4;  // parts of one: what 32-bit floats leave of a page's lengths

double scale_of(PlaceResult const* result) {
  auto const* placement = result ? std::get_if<Placement>(result) : nullptr;
  return placement && placement->scale > 0 ? placement->scale : 1;
}

}  // namespace

ArtNotes const* art_of(PageView const& view) { return can_be_seen(view.page) && view.marks && view.marks->art ? &*view.marks->art : nullptr; }

double print_scale(PageView const& view) { return scale_of(view.placement); }

double press_dpi(Press const& press) {
  std::string const& text = press.printer_resolution;
  double dpi = 0;
  std::size_t at = 0;
  for (;;) {
    double number = 0;
    auto const [end, error] = std::from_chars(text.data() + at, text.data() + text.size(), number, std::chars_format::fixed);
    if (error != std::errc() || !(number > 0)) return kUsualPressDpi;
    dpi = dpi > 0 ? std::min(dpi, number) : number;
    at = static_cast<std::size_t>(end - text.data());
    if (at >= text.size() || text[at] != 'x') break;
    ++at;
  }
  std::string_view const unit = std::string_view(text).substr(at);
  return unit == "dpi" ? dpi : unit == "dpcm" ? dpi * 2.54 : kUsualPressDpi;
}

WeedWanted weed_wanted(Target const& target, PlaceResult const* placement) {
  auto const& limits = target.limits;
  double const side = limits.weed_square.in_points();
  return {press_dpi(target.press),
          scale_of(placement),
          limits.weed_width.in_points(),
          side * side,
          limits.weed_length.in_points(),
          target.white_prints(),
          0};
}

PlateWanted plate_wanted(Target const& target, PlaceResult const* placement) {
  return {target.plate, press_dpi(target.press), scale_of(placement), 0, target.press.white_ink};
}

std::vector<Finding> small_pieces(SmallPieces const& pieces, PageView const& view) {
  WeedFound const& found = pieces.found;
  bool const cut_short = view.weed->looked_at < 1, dots = found.places.count >= kManyWeedPieces;
  std::string const rest =
      view.weed->looked_at == 0
          ? std::string("none of the art was looked at as the press will draw it, because the page takes so long to draw")
          : "only the upper " + format_number(100 * view.weed->looked_at, 0) + " % of the art was looked at, because drawing it finely takes so long";
  if (found.places.count == 0) {
    if (!cut_short || !pieces.reports_rest) return {};
    return {Finding{.check = std::string(pieces.id),
                    .level = Level::note,
                    .message = rest + "; whether it weeds is not known: name this check with --only to have all of it looked at"}};
  }
  auto const& limits = view.target.limits;
  double const width = limits.weed_width.in_points(), side = limits.weed_square.in_points();
  std::string const count =
      cut_short ? "more than " + std::to_string(found.places.count) + " " + pieces.many : counted(found.places.count, pieces.one, pieces.many);
  auto const middle = found.places.first.front().centre();
  std::string const worst =
      found.width_pt > 0 ? format_number(found.width_pt, 2) + " pt wide" : format_number(found.area_pt2, 2) + " square pt large";
  auto f = art_finding(pieces.id, Level::note, found.places,
                       count + " finer than what weeds for sure (" + format_number(width, 2) + " pt wide, and as large as a square of " +
                           format_number(side, 2) + " pt, as printed); " + (found.places.count > 1 ? "the finest, " : "it is ") +
                           (found.finest.empty() ? "" : found.finest + ", ") + worst + (found.places.count > 1 ? ", lies " : " and lies ") +
                           format_length(Length::points(middle.x), view.unit) + " from the left and " +
                           format_length(Length::points(middle.y), view.unit) + " from below: " + (dots ? pieces.dots : pieces.why) +
                           (cut_short && !dots ? " (" + rest + ")" : ""));
  if (found.width_pt > 0) f.measured.emplace_back("width_pt", found.width_pt);
  f.measured.emplace_back("area_pt2", found.area_pt2);
  f.wanted = {{"width_pt", width}, {"area_pt2", side * side}};
  return {f};
}

double limit_on_page(Length limit, PageView const& view) { return limit.in_points() * (1 - kNoise) / print_scale(view); }

bool clearly_below(double value, double limit) { return value < limit * (1 - kNoise); }
bool clearly_above(double value, double limit) { return value > limit * (1 + kNoise); }

std::string where_text(Places const& places, Unit unit) {
  if (places.first.empty()) return "";
  auto const middle = places.first.front().centre();
  return std::string(" (") + (places.count > 1 ? "the first " : "") + format_length(Length::points(middle.x), unit) + " from the left and " +
         format_length(Length::points(middle.y), unit) + " from below)";
}

Finding art_finding(std::string_view id, Level level, Places const& places, std::string message) {
  Finding f{.check = std::string(id), .level = level, .message = std::move(message)};
  f.measured = {{"count", static_cast<double>(places.count)}};
  if (places.first.empty()) return f;
  f.where = places.first.front();
  f.places.assign(places.first.begin() + 1, places.first.end());
  return f;
}

std::string names_text(std::vector<std::string> const& names) {
  constexpr std::size_t kMostNames = 6;
  std::vector<std::string> reported(names.begin(), names.begin() + static_cast<std::ptrdiff_t>(std::min(names.size(), kMostNames)));
  for (auto& name : reported)
    if (name.empty()) name = "one without a name";
  if (names.size() > kMostNames) reported.push_back(std::to_string(names.size() - kMostNames) + " more");
  return joined(reported);
}

bool is_process_ink(std::string_view name) {
  static constexpr std::array<std::string_view, 6> kNames{"Cyan", "Magenta", "Yellow", "Black", "All", "None"};
  return std::ranges::find(kNames, name) != kNames.end();
}

bool is_white_ink(std::string_view name, Target const& target) {
  return std::ranges::find(target.limits.white_inks, name) != target.limits.white_inks.end();
}

std::string printed_points(double points_on_page, PageView const& view) {
  double const printed = points_on_page * print_scale(view);
  if (printed <= 0) return "a hairline";
  return format_number(printed, printed < 0.1 ? 3 : printed < 1 ? 2 : 1) + " pt";
}

std::vector<Finding> small_things(SmallThings const& small, PageView const& view) {
  Places const found = small.things.below(limit_on_page(small.limit, view));
  if (found.count == 0) return {};
  double const least = *small.things.least();
  auto f = art_finding(small.id, Level::note, found,
                       counted(found.count, small.one, small.many) + " under " + format_number(small.limit.in_points(), 2) + " pt as printed" +
                           where_text(found, view.unit) + ", the smallest " + printed_points(least, view) + ": " + small.why);
  f.measured.emplace_back(small.figure, least * print_scale(view));
  f.wanted = {{small.figure, small.limit.in_points()}};
  return {f};
}

std::vector<Finding> density_findings(DensityLimit const& wanted, PageView const& view) {
  ArtNotes const* art = art_of(view);
  if (!art) return {};
  Places beyond;
  double worst = 0, worst_limit = 0;
  for (PictureNote const& p : art->pictures) {
    double const ppi = std::min(p.ppi_along, p.ppi_down) / print_scale(view), limit = p.one_bit ? wanted.bit_ppi : wanted.ppi;
    bool const counts = wanted.most || (!p.flat && std::min(p.width, p.height) >= kLeastPixels && ppi > 0);
    if (!counts || !(wanted.most ? clearly_above(ppi, limit) : clearly_below(ppi, limit))) continue;
    beyond.add(p.shown);
    double const share = ppi / limit;
    if (worst_limit != 0 && (wanted.most ? share <= worst / worst_limit : share >= worst / worst_limit)) continue;
    worst = ppi;
    worst_limit = limit;
  }
  if (beyond.count == 0) return {};
  auto f = art_finding(wanted.id, Level::note, beyond,
                       counted(beyond.count, "picture has", "pictures have") + wanted.fault + where_text(beyond, view.unit) +
                           (wanted.most ? ", the most " : ", the lowest ") + format_number(worst, 0) + " to the inch where " +
                           format_number(worst_limit, 0) + wanted.why);
  f.measured.emplace_back("ppi", worst);
  f.wanted = {{"ppi", worst_limit}};
  return {f};
}

}  // namespace layright
