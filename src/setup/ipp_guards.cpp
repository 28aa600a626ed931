#include "setup/ipp_guards.h"

#include <algorithm>
#include <charconv>
#include <set>
#include <string_view>

#include "setup/ipp_values.h"
#include "setup/setting.h"

namespace layright {
namespace {

/// Job attributes that change what comes out, with the values that do not, the best first. RFC 8011, 5.2; PWG 5100.1 (finishings),
/// 5100.3 (shifts, covers), 5100.13 (orientation-requested none, print-content-optimize).
struct IppGuard {
  char const* name;
  std::vector<char const*> neutral;
};
std::vector<IppGuard> const& guards() {
  static std::vector<IppGuard> const all = {
      {"number-up", {"1"}},
      {"finishings", {"3"}},
      {"orientation-requested", {"7", "3"}},
      {"job-sheets", {"none"}},
      {"imposition-template", {"none"}},
      {"sides", {"one-sided"}},
      {"copies", {"1"}},
      {"print-scaling", {"none"}},
      {"page-delivery", {"system-specified", "same-order-face-down", "same-order-face-up"}},
      {"output-order", {"normal"}},
      {"x-image-shift", {"0"}},
      {"y-image-shift", {"0"}},
      {"x-side1-image-shift", {"0"}},
      {"y-side1-image-shift", {"0"}},
      {"x-image-position", {"none"}},
      {"y-image-position", {"none"}},
      {"image-orientation", {"3"}},
      {"print-darkness", {"0"}},
      {"mirror", {"false"}},
      {"print-content-optimize", {"auto"}},
  };
  return all;
}

std::vector<std::string> const* values_of(Offer const& offer, std::string const& name) {
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

/// Collections (PWG 5100.1, 5100.3) that ask for nothing, as ipp_reading.cpp writes them.
bool asks_for_nothing(std::string const& collection) {
  constexpr std::string_view kNothing[] = {"cover-type=no-cover",
                                           "finishing-template=none",
                                           "job-sheets=none",
                                           "separator-sheets-type=none",
                                           "insert-count=0",
                                           "job-error-sheet-type=none",
                                           "job-accounting-sheets-type=none",
                                           "save-disposition=none",
                                           "{}"};
  return std::any_of(std::begin(kNothing), std::end(kNothing), [&](auto nothing) { return collection.find(nothing) != std::string::npos; });
}

/// Defaults of attributes that nobody here knows.
void report_unknown(Offer const& offer, std::vector<IppMember> const& job, std::vector<Finding>& findings) {
  constexpr std::string_view kEnding = "-default";
  for (auto const& [attribute, values] : offer.attributes) {
    if (!attribute.ends_with(kEnding) || values.empty() || values.front().empty()) continue;
    std::string const name = attribute.substr(0, attribute.size() - kEnding.size());
    bool const said = std::any_of(job.begin(), job.end(), [&](IppMember const& m) { return m.name == name; });
    bool const guarded = std::any_of(guards().begin(), guards().end(), [&](IppGuard const& guard) { return guard.name == name; });
    if (said || guarded || leaves_page_alone(name) || asks_for_nothing(values.front())) continue;
    add_finding(findings, "press.default", Level::hold,
                "the press has a default of its own, " + name + " " + values.front() +
                    ", and what undoes it is not known here: see what it does, and say " + name + " under options in the press's table");
  }
}

}  // namespace

bool leaves_page_alone(std::string const& attribute) {
  // RFC 8011, 5.2; RFC 3995; PWG 5100.7, 5100.11, 5100.13; CUPS' own (job-…, page-logging, ppi, cups-browsed). What size, tray, type, exit, quality,
  // colour and resolution are is the job's to say.
  static std::set<std::string> const names = {"booklet-signature",
                                              "confirmation-sheet-print",
                                              "cups-browsed",
                                              "cups-browsed-dest-printer",
                                              "document-charset",
                                              "document-format",
                                              "document-natural-language",
                                              "identify-actions",
                                              "job-account-id",
                                              "job-account-type",
                                              "job-accounting-user-id",
                                              "job-billing",
                                              "job-cancel-after",
                                              "job-delay-output-until",
                                              "job-delay-output-until-time",
                                              "job-error-action",
                                              "job-hold-until",
                                              "job-hold-until-time",
                                              "job-message-to-operator",
                                              "job-name",
                                              "job-pages-per-set",
                                              "job-phone-number",
                                              "job-priority",
                                              "job-recipient-name",
                                              "job-retain-until",
                                              "job-retain-until-interval",
                                              "job-retain-until-time",
                                              "media",
                                              "media-col",
                                              "media-size",
                                              "media-source",
                                              "media-type",
                                              "multiple-document-handling",
                                              "multiple-object-handling",
                                              "multiple-operation-time-out-action",
                                              "notify-events",
                                              "notify-lease-duration",
                                              "notify-pull-method",
                                              "output-bin",
                                              "output-device",
                                              "page-logging",
                                              "page-order-received",
                                              "ppi",
                                              "presentation-direction-number-up",
                                              "print-color-mode",
                                              "print-quality",
                                              "print-rendering-intent",
                                              "printer-resolution",
                                              "sheet-collate"};
  return names.contains(attribute);
}

std::vector<Finding> add_guards(Offer const& offer, std::vector<IppMember>& job) {
  std::vector<Finding> findings;
  for (auto const& guard : guards()) {
    std::string const name = guard.name;
    auto const* supported = values_of(offer, name + "-supported");
    auto const* now = values_of(offer, name + "-default");
    if ((!supported && !now) || std::any_of(job.begin(), job.end(), [&](IppMember const& m) { return m.name == name; })) continue;
    auto const known = [&](char const* value) {
      return !supported || std::any_of(supported->begin(), supported->end(), [&](auto const& s) { return covers(s, value); });
    };
    auto const at = std::find_if(guard.neutral.begin(), guard.neutral.end(), known);
    bool const is_so = !now || std::all_of(now->begin(), now->end(), [&](std::string const& value) {
      return std::find(guard.neutral.begin(), guard.neutral.end(), value) != guard.neutral.end();
    });
    if (at != guard.neutral.end()) {
      if (auto value = ipp_value(name, *at, offer.syntaxes)) job.push_back({name, *value});
    } else if (!is_so) {
      add_finding(findings, "press.default", Level::hold,
                  "the press has a default of its own, " + name + " " + now->front() +
                      ", that a job cannot undo: set it back at the press, or name the attribute under options in the press's table");
    }
  }
  report_unknown(offer, job, findings);
  return findings;
}

}  // namespace layright
