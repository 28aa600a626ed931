#include "setup/fitted_job.h"

#include <algorithm>
#include <cstdlib>

#include "setup/ipp_guards.h"
#include "setup/ipp_values.h"
#include "setup/ppd_words.h"
#include "setup/render.h"
#include "setup/setting.h"

namespace layright {
namespace {

bool offers(Offer const& offer, std::string const& attribute, std::string const& word) {
  auto const found = offer.attributes.find(attribute + "-supported");
  return found != offer.attributes.end() && std::find(found->second.begin(), found->second.end(), word) != found->second.end();
}

bool is_default(Offer const& offer, std::string const& attribute, std::string const& word) {
  auto const found = offer.attributes.find(attribute + "-default");
  return found != offer.attributes.end() && !found->second.empty() && found->second.front() == word;
}

/// What the press does not offer and nobody asked for.
bool is_left_out(Offer const& offer, IppMember const& each, Target const& target) {
  if (each.name == "print-rendering-intent") {
    auto const* intent = std::get_if<IppKeyword>(&each.value);
    return !intent || !offers(offer, each.name, intent->word);
  }
  if (each.name == "copies" && target.copies > 1) return false;  // reported where it is not offered; never dropped
  return (each.name == "sides" || each.name == "copies") && !offer.attributes.contains(each.name + "-supported");
}

void fit_margins(Offer const& offer, IppCollection& media) {
  for (auto& member : media) {
    auto const found = offer.attributes.find(member.name + "-supported");
    if (!member.name.ends_with("-margin") || found == offer.attributes.end()) continue;
    int best = -1;
    for (auto const& text : found->second)
      if (int const margin = std::atoi(text.c_str()); margin <= std::get<int>(member.value) && margin > best) best = margin;
    if (best >= 0) member.value = best;
  }
}

void check_own(PressOptions const& options, Offer const& offer, White const& white, std::vector<Finding>& findings) {
  for (auto const& [name, written] : options) {
    auto const value = ipp_value(name, with_percent(written, white), offer.syntaxes);
    if (value) continue;
    add_finding(findings, "press.option", Level::hold, value.error().message);
  }
}

}  // namespace

FittedJob fitted_job(Target const& asked, Offer const& offer) {
  Target target = asked;
  Press& press = target.press;
  if (press.printer_resolution == kFinest) press.printer_resolution = finest_offered(offer);
  // Of the press's own defaults a worse quality and a loss of colour are what nobody wants.
  if (press.print_quality.empty() && is_default(offer, "print-quality", "3") && offers(offer, "print-quality", "4")) press.print_quality = "normal";
  if (press.print_color_mode.empty() && !is_default(offer, "print-color-mode", "color") && offers(offer, "print-color-mode", "color"))
    press.print_color_mode = "color";
  FittedJob job;
  job.attributes = ipp_job_attributes(target, offer.syntaxes);
  std::erase_if(job.attributes, [&](IppMember const& each) { return is_left_out(offer, each, target); });
  // PWG 5100.11.
  if (auto const* edge = asked.sheet.feed == Feed::short_edge ? "short-edge-first" : "long-edge-first";
      offers(offer, "feed-orientation", edge) || is_default(offer, "feed-orientation", edge))
    job.attributes.push_back({"feed-orientation", IppKeyword{edge}});
  for (auto& each : job.attributes)
    if (each.name == "media-col") fit_margins(offer, std::get<IppCollection>(each.value));
  check_own(press.options, offer, target.white, job.findings);
  check_own(target.white.on ? press.white_on : press.white_off, offer, target.white, job.findings);
  check_own(target.reverse_at == ReverseAt::printer ? press.mirror_on : press.mirror_off, offer, target.white, job.findings);
  check_own(press.no_size_check, offer, target.white, job.findings);
  check_own(press.no_tray_switch, offer, target.white, job.findings);
  for (auto& finding : add_guards(offer, job.attributes)) job.findings.push_back(std::move(finding));
  return job;
}

std::vector<IppMember> fitted_attributes(Target const& target, Offer const& offer) { return fitted_job(target, offer).attributes; }

}  // namespace layright
