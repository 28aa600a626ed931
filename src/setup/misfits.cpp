// What a printer offers against what is asked of it.
#include <algorithm>
#include <cstdlib>
#include <limits>

#include "setup/ppd_words.h"
#include "setup/service.h"
#include "setup/setting.h"
#include "sheet/sizes.h"

namespace layright {
namespace {

// PWG 5100.13's unit is 1/100 mm; anything within 0.05 mm is the same size.
constexpr int kSizeNoise = 5;

void add(std::vector<Finding>& findings, char const* check, Level level, std::string message) {
  Finding finding;
  finding.check = check;
  finding.level = level;
  finding.message = std::move(message);
  findings.push_back(std::move(finding));
}

std::vector<std::string> const* offered(Offer const& offer, std::string const& name) {
  auto const found = offer.attributes.find(name);
  return found == offer.attributes.end() ? nullptr : &found->second;
}

/// Wider than what is compared: a press may send any number.
long long off(long long value, long long low, long long high) { return value < low ? low - value : value > high ? value - high : 0; }

std::string size_words(OfferedSize const& s, Unit unit) {
  auto const length = [](int hundredths) { return Length::millimetres(hundredths / 100.0); };
  if (s.min_x == s.max_x && s.min_y == s.max_y) return format_size(length(s.min_x), length(s.min_y), unit);
  return format_size(length(s.min_x), length(s.min_y), unit) + " to " + format_size(length(s.max_x), length(s.max_y), unit);
}

void check_size(Target const& target, Offer const& offer, Unit unit, std::vector<Finding>& findings) {
  int const x = hundredths_of_mm(target.sheet.width), y = hundredths_of_mm(target.sheet.length);
  if (offer.sizes.empty())
    return add(findings, "press.size", Level::note, "the press does not tell which sizes it takes; it may refuse " + format_size(target.sheet.width, target.sheet.length, unit));
  OfferedSize const* nearest = nullptr;
  auto least = std::numeric_limits<long long>::max();
  for (auto const& size : offer.sizes) {
    auto const distance = off(x, size.min_x, size.max_x) + off(y, size.min_y, size.max_y);
    if (off(x, size.min_x, size.max_x) <= kSizeNoise && off(y, size.min_y, size.max_y) <= kSizeNoise) return;
    if (distance < least) least = distance, nearest = &size;
  }
  add(findings, "press.size", Level::hold, "the press does not take " + format_size(target.sheet.width, target.sheet.length, unit) +
                                               "; the nearest that it offers is " + size_words(*nearest, unit));
}

void check_word(Offer const& offer, char const* check, std::string const& attribute, std::string const& wanted, std::vector<Finding>& findings) {
  if (wanted.empty()) return;
  auto const* words = offered(offer, attribute + "-supported");
  if (!words) return add(findings, check, Level::hold, "the press does not offer " + attribute + " at all, and " + wanted + " is asked for: take it out of the press's table, or set it at the press");
  if (std::find(words->begin(), words->end(), wanted) != words->end()) return;
  std::string const near = nearest_name(wanted, *words);
  std::string list;
  for (std::size_t i = 0; i < words->size() && i < 12; ++i) list += (i ? ", " : "") + (*words)[i];
  add(findings, check, Level::hold, "the press does not offer " + attribute + " " + wanted + "; " + (near.empty() ? "it offers " + list : "the nearest that it offers is " + near));
}

void check_feed(Target const& target, Offer const& offer, std::vector<Finding>& findings) {
  std::string const wanted = target.sheet.feed == Feed::short_edge ? "short-edge-first" : "long-edge-first";
  for (auto const& tray : offer.trays) {
    if (tray.source != target.press.media_source) continue;
    if (tray.feed_direction == wanted) return;
    return add(findings, "press.feed", Level::hold, "the press says that its tray " + tray.source + " takes sheets " + (tray.feed_direction == "short-edge-first" ? "short edge first" : "long edge first") +
                                                        ", and the sheet shall go in " + feed_words(target.sheet.feed) + ": turn the tray's setting at the press, or lay the file for the other edge");
  }
}

}  // namespace

std::string finest_offered(Offer const& offer) {
  std::string best;
  double most = 0;
  if (auto const* listed = offered(offer, "printer-resolution-supported"))
    for (auto const& text : *listed) {
      auto const dots = parse_resolution(text);
      if (1.0 * dots.across * dots.along > most) most = 1.0 * dots.across * dots.along, best = text;
    }
  return best;
}

std::vector<Finding> misfits(Target const& target, Offer const& offer, Unit unit) {
  std::vector<Finding> findings;
  Press const& press = target.press;
  check_size(target, offer, unit, findings);
  check_word(offer, "press.tray", "media-source", press.media_source, findings);
  check_word(offer, "press.media", "media-type", press.media_type, findings);
  check_word(offer, "press.exit", "output-bin", press.output_bin, findings);
  std::string const quality = press.print_quality == "draft" ? "3" : press.print_quality == "normal" ? "4" : press.print_quality == "high" ? "5" : "";
  check_word(offer, "press.quality", "print-quality", quality, findings);
  check_word(offer, "press.colour", "print-color-mode", press.print_color_mode, findings);
  for (auto const& attribute : ipp_job_attributes(target))
    if (auto const* dots = std::get_if<IppResolution>(&attribute.value))
      check_word(offer, "press.resolution", attribute.name, std::to_string(dots->across) + "x" + std::to_string(dots->along) + "dpi", findings);
  if (press.printer_resolution == kFinest && finest_offered(offer).empty())
    add(findings, "press.resolution", Level::note, "the press does not tell which resolutions it has: set the finest at the press");
  if (offered(offer, "sides-supported")) check_word(offer, "press.sides", "sides", "one-sided", findings);
  if (auto const* scaling = offered(offer, "print-scaling-supported"); scaling && std::find(scaling->begin(), scaling->end(), "none") == scaling->end())
    add(findings, "press.scale", Level::hold, "the press does not offer to print without scaling (print-scaling none)");
  check_feed(target, offer, findings);
  if (auto const* formats = offered(offer, "document-format-supported"); formats && std::find(formats->begin(), formats->end(), "application/pdf") == formats->end())
    add(findings, "press.format", Level::hold, "the press does not take PDF: print through a queue that has its PPD");
  if (auto const* accepting = offered(offer, "printer-is-accepting-jobs"); accepting && !accepting->empty() && accepting->front() == "false")
    add(findings, "press.away", Level::hold, "the press takes no jobs now: see what its panel or its queue says");
  return findings;
}

}  // namespace layright
