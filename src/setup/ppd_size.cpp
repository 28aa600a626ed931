#include <algorithm>
#include <cmath>

#include "setup/blank_edges.h"
#include "setup/ppd_library.h"
#include "setup/setting.h"

namespace layright {
namespace {

// libcups keeps sizes as float and prints whole points; anything nearer is the same sheet.
constexpr double kPointNoise = 0.01;
// A named size counts as the sheet's own within this (PostScript matches media within 5 pt: PLRM 3, 6.2.1; a cut sheet is within
// 2 mm: ISO 216). Ours is stricter.
constexpr double kNamedTolerance = 1.5;

ppd_cparam_t* parameter(ppd_file_t* file, char const* name) {
  ppd_coption_t* custom = ppdFindCustomOption(file, "PageSize");
  return custom ? ppdFindCustomParam(custom, name) : nullptr;
}

std::string sheet_words(Target const& target, Unit unit) {
  return format_size(target.sheet.width, target.sheet.length, unit) + ", " + feed_words(target.sheet.feed);
}

Error cannot(Target const& target, Unit unit, std::string const& why, std::string const& line) {
  return Error{ErrorKind::hold,
               "the press cannot take the sheet (" + sheet_words(target, unit) + "): " + why + (line.empty() ? "" : "; its PPD says in " + line)};
}

/// The named size of the PPD that is this sheet, or null; never one that lies the other way.
ppd_size_t const* named_size(ppd_file_t const* file, double across, double along) {
  for (int i = 0; i < file->num_sizes; ++i) {
    ppd_size_t const& size = file->sizes[i];
    if (std::string_view(size.name) == "Custom") continue;
    if (std::abs(size.width - across) <= kNamedTolerance && std::abs(size.length - along) <= kNamedTolerance) return &size;
  }
  return nullptr;
}

/// Why a custom size of this width and height is out of range, or nothing.
std::optional<Error> out_of_range(Ppd::Members& ppd, Target const& target, Unit unit) {
  auto const page = target.sheet.page();
  struct Side {
    char const* name;
    double value;
    char const* word;
  };
  for (auto const& side : {Side{"Width", page.width(), "across the feed"}, Side{"Height", page.height(), "along the feed"}}) {
    ppd_cparam_t const* range = parameter(ppd.file, side.name);
    if (!range || range->type != PPD_CUSTOM_POINTS)
      return cannot(target, unit, std::string("custom sizes are offered without a range for ") + side.name, ppd.lines.quote("*CustomPageSize"));
    double const low = range->minimum.custom_points, high = range->maximum.custom_points;
    std::string const line = ppd.lines.quote("*ParamCustomPageSize", side.name);
    auto const reported = [&](double limit, char const* which) {
      return cannot(
          target, unit,
          format_length(Length::points(side.value), unit) + " " + side.word + " is " + which + " " + format_length(Length::points(limit), unit),
          line);
    };
    if (side.value > high + kPointNoise) return reported(high, "more than its maximum of");
    if (side.value < low - kPointNoise) return reported(low, "less than its minimum of");
  }
  return std::nullopt;
}

/// libcups asks for orientation 1, clamped to what the PPD allows: 0 and 1 (and 3) leave width across the feed; at 2 it comes out upside
/// down with the sides swapped, which libcups does not do (PPD specification 4.3, 5.16; measured).
std::optional<Error> bad_orientation(Ppd::Members& ppd, Target const& target, Unit unit) {
  ppd_cparam_t const* range = parameter(ppd.file, "Orientation");
  if (!range || range->type != PPD_CUSTOM_INT) return std::nullopt;
  int const low = range->minimum.custom_int, high = range->maximum.custom_int;
  int const asked = std::clamp(1, std::min(low, high), std::max(low, high));
  if (low <= high && (asked == 0 || asked == 1 || asked == 3)) return std::nullopt;
  return cannot(target, unit, "a custom size could only be asked for in orientation " + std::to_string(asked) + ", which turns width and height",
                ppd.lines.quote("*ParamCustomPageSize", "Orientation"));
}

/// The PPD contradicts itself: its parameters take the sheet, its widest or longest media does not.
void report_widest(Ppd::Members& ppd, Target const& target, std::vector<Finding>& findings, Unit unit) {
  auto const page = target.sheet.page();
  for (auto [keyword, value] : {std::pair{"MaxMediaWidth", page.width()}, std::pair{"MaxMediaHeight", page.height()}}) {
    ppd_attr_t const* widest = ppdFindAttr(ppd.file, keyword, nullptr);
    if (!widest || !widest->value) continue;
    double const most = std::strtod(widest->value, nullptr);
    if (!(most > 0) || value <= most + kPointNoise) continue;
    add_finding(findings, "press.size", Level::hold,
                "the press's PPD takes a custom size of " + format_length(Length::points(value), unit) + " but says that its media ends at " +
                    format_length(Length::points(most), unit) + " (" + ppd.lines.quote(std::string("*") + keyword) +
                    "); measure the press, and try the size on paper first");
  }
}

void check_leading_edge(Ppd::Members& ppd, Target const& target, std::vector<Finding>& findings) {
  ppd_attr_t const* leading = ppdFindAttr(ppd.file, "DefaultLeadingEdge", nullptr);
  if (!leading || !leading->value) return;
  std::string const edge = leading->value;
  bool const short_first = target.sheet.feed == Feed::short_edge;
  bool const long_leads = edge.starts_with("Long") || edge.starts_with("PreferLong");
  if ((long_leads && short_first) || (edge.starts_with("Short") && !short_first)) {
    add_finding(findings, "press.feed", Level::hold,
                "the press leads with the " + std::string(long_leads ? "long" : "short") + " edge by default (" +
                    ppd.lines.quote("*DefaultLeadingEdge") + ") but the sheet must go in " + feed_words(target.sheet.feed) +
                    ": set the leading edge at the press, and try it on paper of the same size");
  } else if (edge == "Forced" || edge == "Unknown") {
    add_finding(findings, "press.feed", Level::note,
                "the press's PPD does not tell which edge leads (" + ppd.lines.quote("*DefaultLeadingEdge") + "): a trial sheet shows it");
  }
}

}  // namespace

Result<Setting> ppd_size_setting(Ppd::Members& ppd, Target const& target, std::vector<Finding>& findings, Unit unit) {
  auto const page = target.sheet.page();
  std::string const why = "the sheet is " + sheet_words(target, unit) + ": width across the feed, then length";
  Setting setting{Topic::size, "PageSize", {}, {}, {}, why};
  if (ppd_option_t const* option = ppdFindOption(ppd.file, "PageSize")) setting.option_label = option->text;
  ppd_size_t const* named = named_size(ppd.file, page.width(), page.height());
  std::optional<Error> refused;
  if (ppd.file->variable_sizes) {
    refused = out_of_range(ppd, target, unit);
    if (!refused) refused = bad_orientation(ppd, target, unit);
    if (!refused) {
      report_widest(ppd, target, findings, unit);
      setting.choice = "Custom." + format_number(page.width(), 3) + "x" + format_number(page.height(), 3);
      setting.choice_label = "custom size";
      return setting;
    }
  }
  if (named) {
    setting.choice = named->name;
    if (ppd_option_t* option = ppdFindOption(ppd.file, "PageSize"))
      if (ppd_choice_t const* choice = ppdFindChoice(option, named->name)) setting.choice_label = choice->text;
    return setting;
  }
  if (refused) return *refused;
  std::string line = ppd.lines.quote("*CustomPageSize");
  if (line.empty()) line = ppd.lines.quote("*VariablePaperSize");
  if (line.empty()) line = ppd.lines.quote("*DefaultPageSize");
  return cannot(target, unit, "it takes named sizes only, and none of its " + std::to_string(ppd.file->num_sizes) + " is this one", line);
}

Outcome ppd_check_size(Ppd::Members& ppd, Target const& target, Setting const& size, std::optional<Rect<SheetSpace>> const& ink,
                       std::vector<Finding>& findings, Unit unit) {
  auto const page = target.sheet.page();
  // Limits that depend on the tray or the quality (cupsMinSize, cupsMaxSize) hold only for what is marked.
  ppd_size_t least{}, most{};
  bool const custom = size.choice.starts_with("Custom.");
  if (custom && ppdPageSizeLimits(ppd.file, &least, &most)) {
    bool const over = page.width() > most.width + kPointNoise || page.height() > most.length + kPointNoise;
    bool const under = page.width() < least.width - kPointNoise || page.height() < least.length - kPointNoise;
    if (over || under) {
      std::string const line = ppd.lines.quote(over ? "*cupsMaxSize" : "*cupsMinSize");
      return cannot(target, unit,
                    std::string("with this tray and quality it ") + (over ? "ends at " : "begins at ") +
                        format_size(Length::points(over ? most.width : least.width), Length::points(over ? most.length : least.length), unit),
                    line);
    }
  }
  ppd_size_t const* marked = ppdPageSize(ppd.file, nullptr);
  double const tolerance = custom ? kPointNoise : kNamedTolerance;
  if (!marked || std::abs(marked->width - page.width()) > tolerance || std::abs(marked->length - page.height()) > tolerance)
    return cannot(target, unit,
                  "asked for " + size.choice + ", libcups set " +
                      (marked ? format_size(Length::points(marked->width), Length::points(marked->length), unit) : "nothing"),
                  "");
  std::string const line = custom ? ppd.lines.quote("*HWMargins") : ppd.lines.quote("*ImageableArea", marked->name);
  report_blank_edges(target, {marked->left, marked->bottom, marked->right, marked->top}, ink, line.empty() ? "" : "its PPD says in " + line, unit,
                     findings);
  check_leading_edge(ppd, target, findings);
  return done();
}

}  // namespace layright
