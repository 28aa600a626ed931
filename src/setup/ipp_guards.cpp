#include "setup/ipp_guards.h"

#include <algorithm>
#include <charconv>

#include "setup/ipp_values.h"

namespace layright {
namespace {

/// Job attributes that change what comes out, with the values that do not, the best first. RFC 8011, 5.2; PWG 5100.1 (finishings),
/// 5100.3 (shifts, covers), 5100.13 (orientation-requested none, print-content-optimize).
struct Guard {
  char const* name;
  std::vector<char const*> neutral;
};
std::vector<Guard> const& guards() {
  static std::vector<Guard> const all = {
      {"number-up", {"1"}}, {"finishings", {"3"}}, {"orientation-requested", {"7", "3"}}, {"job-sheets", {"none"}},
      {"imposition-template", {"none"}}, {"sides", {"one-sided"}}, {"copies", {"1"}}, {"print-scaling", {"none"}},
      {"page-delivery", {"system-specified", "same-order-face-down", "same-order-face-up"}}, {"output-order", {"normal"}},
      {"x-image-shift", {"0"}}, {"y-image-shift", {"0"}}, {"x-side1-image-shift", {"0"}}, {"y-side1-image-shift", {"0"}},
      {"x-image-position", {"none"}}, {"y-image-position", {"none"}}, {"image-orientation", {"3"}},
      {"print-darkness", {"0"}}, {"mirror", {"false"}},
  };
  return all;
}

std::vector<std::string> const* values(Offer const& offer, std::string const& name) {
  auto const found = offer.attributes.find(name);
  return found == offer.attributes.end() || found->second.empty() ? nullptr : &found->second;
}

bool covers(std::string const& supported, std::string const& wanted) {
  if (supported == wanted) return true;
  int low = 0, high = 0, number = 0;
  auto const* const text = supported.data();
  auto const first = std::from_chars(text, text + supported.size(), low);
  if (first.ec != std::errc() || first.ptr == text + supported.size() || *first.ptr != '-') return false;
  auto const second = std::from_chars(first.ptr + 1, text + supported.size(), high);
  auto const own = std::from_chars(wanted.data(), wanted.data() + wanted.size(), number);
  return second.ec == std::errc() && own.ec == std::errc() && number >= low && number <= high;
}

}  // namespace

std::vector<Finding> add_guards(Offer const& offer, std::vector<IppMember>& job) {
  std::vector<Finding> findings;
  for (auto const& guard : guards()) {
    std::string const name = guard.name;
    auto const* supported = values(offer, name + "-supported");
    auto const* now = values(offer, name + "-default");
    if ((!supported && !now) || std::any_of(job.begin(), job.end(), [&](IppMember const& m) { return m.name == name; })) continue;
    auto const known = [&](char const* value) { return !supported || std::any_of(supported->begin(), supported->end(), [&](auto const& s) { return covers(s, value); }); };
    auto const at = std::find_if(guard.neutral.begin(), guard.neutral.end(), known);
    bool const is_so = !now || std::all_of(now->begin(), now->end(), [&](std::string const& value) { return std::find(guard.neutral.begin(), guard.neutral.end(), value) != guard.neutral.end(); });
    if (at != guard.neutral.end()) {
      if (auto value = ipp_value(name, *at, offer.syntaxes)) job.push_back({name, *value});
    } else if (!is_so) {
      Finding finding;
      finding.check = "press.default";
      finding.level = Level::hold;
      finding.message = "the press has a default of its own, " + name + " " + now->front() + ", that a job cannot undo: set it back at the press, or name the attribute under options in the press's table";
      findings.push_back(std::move(finding));
    }
  }
  return findings;
}

}  // namespace layright
