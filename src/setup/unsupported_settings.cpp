// What a printer offers against what is asked of it.
#include <algorithm>
#include <cstdlib>

#include "setup/fitted_job.h"
#include "setup/loaded.h"
#include "setup/ppd_words.h"
#include "setup/service.h"
#include "setup/setting.h"
#include "sheet/sizes.h"

namespace layright {
namespace {

std::vector<std::string> const* offered(Offer const& offer, std::string const& name) {
  auto const found = offer.attributes.find(name);
  return found == offer.attributes.end() ? nullptr : &found->second;
}

void check_word(Offer const& offer, char const* check, std::string const& attribute, std::string const& wanted, std::vector<Finding>& findings) {
  if (wanted.empty()) return;
  auto const* words = offered(offer, attribute + "-supported");
  if (!words)
    return add_finding(findings, check, Level::hold,
                       "the press does not offer " + attribute + " at all, and " + wanted +
                           " is asked for: take it out of the press's table, or set it at the press");
  if (std::find(words->begin(), words->end(), wanted) != words->end()) return;
  std::string const near = nearest_name(wanted, *words);
  std::string list;
  for (std::size_t i = 0; i < words->size() && i < 12; ++i) list += (i ? ", " : "") + (*words)[i];
  add_finding(
      findings, check, Level::hold,
      "the press does not offer " + attribute + " " + wanted + "; " + (near.empty() ? "it offers " + list : "the nearest that it offers is " + near));
}

/// "99", or the end of "1-99".
int most_of(std::string const& text) { return std::atoi(text.substr(text.find('-') == std::string::npos ? 0 : text.find('-') + 1).c_str()); }

void check_copies(Target const& target, Offer const& offer, std::vector<Finding>& findings) {
  if (target.copies <= 1) return;
  auto const* reported = offered(offer, "copies-supported");
  int const most = reported && !reported->empty() ? most_of(reported->front()) : 0;
  if (target.copies <= most) return;
  add_finding(findings, "press.copies", Level::hold,
              (most > 0 ? "the press takes at most " + std::to_string(most) + " copies of a job"
                        : std::string("the press does not take a number of copies")) +
                  ", and " + std::to_string(target.copies) +
                  " are asked for: send the file several times (--copies 1, then --again), or put the copies on one sheet");
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

std::vector<Finding> unsupported_settings(Target const& target, Offer const& offer, Unit unit) {
  std::vector<Finding> findings;
  Press const& press = target.press;
  report_media(target, offer, unit, findings);
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
    add_finding(findings, "press.resolution", Level::note, "the press does not tell which resolutions it has: set the finest at the press");
  if (offered(offer, "sides-supported")) check_word(offer, "press.sides", "sides", "one-sided", findings);
  if (auto const* scaling = offered(offer, "print-scaling-supported");
      scaling && std::find(scaling->begin(), scaling->end(), "none") == scaling->end())
    add_finding(findings, "press.scale", Level::hold, "the press does not offer to print without scaling (print-scaling none)");
  check_copies(target, offer, findings);
  report_supplies(offer, findings);
  for (auto& finding : fitted_job(target, offer).findings) findings.push_back(std::move(finding));
  if (auto const* formats = offered(offer, "document-format-supported");
      formats && std::find(formats->begin(), formats->end(), "application/pdf") == formats->end())
    add_finding(findings, "press.format", Level::hold, "the press does not take PDF: print through a queue that has its PPD");
  if (auto const* accepting = offered(offer, "printer-is-accepting-jobs"); accepting && !accepting->empty() && accepting->front() == "false")
    add_finding(findings, "press.away", Level::hold, "the press takes no jobs now: see what its panel or its queue says");
  return findings;
}

}  // namespace layright
