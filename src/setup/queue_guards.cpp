#include "setup/queue_guards.h"

#include <algorithm>

#include "setup/ipp_guards.h"

namespace layright {
namespace {

/// Each changes what leaves CUPS' own filters when it is set as a queue's default (measured: tests/setup/queue_defaults_test.cpp), and
/// does nothing with this value.
constexpr std::pair<char const*, char const*> kGuards[] = {
    {"print-scaling", "none"},
    {"orientation-requested", "3"},
    {"number-up", "1"},
    {"number-up-layout", "lrtb"},
    {"job-sheets", "none"},
    {"page-border", "none"},
    {"page-label", ""},
    {"page-ranges", "1-9999"},
    {"page-set", "all"},
    {"booklet", "off"},
    {"output-order", "normal"},
    {"OutputOrder", "Normal"},
    {"page-delivery", "same-order-face-down"},
    {"sides", "one-sided"},
    {"finishings", "3"},
    {"multiple-document-handling", "separate-documents-uncollated-copies"},
    {"Collate", "False"},
    {"fit-to-page", "false"},
    {"fitplot", "false"},
    {"fill", "false"},
    {"crop-to-fit", "false"},
    {"landscape", "false"},
    {"natural-scaling", "100"},
    {"scaling", "100"},
    {"position", "center"},
    {"page-left", "0"},
    {"page-right", "0"},
    {"page-top", "0"},
    {"page-bottom", "0"},
    {"gamma", "1000"},
    {"brightness", "100"},
    {"hue", "0"},
    {"saturation", "100"},
    {"emit-jcl", "true"},
    {"print-content-optimize", "auto"},
};

bool has(QueueOptions const& options, std::string_view name) {
  return std::any_of(options.begin(), options.end(), [&](auto const& option) { return option.first == name; });
}

std::string const* first_of(OfferedAttributes const& attributes, std::string const& name) {
  auto const found = attributes.find(name);
  return found == attributes.end() || found->second.empty() ? nullptr : &found->second.front();
}

/// RFC 8011, 5.2.13. As asked; else as the PPD's own option for it has it, so that the guard leaves that alone.
std::string quality(Target const& target, Ppd const* ppd) {
  std::string word = target.press.print_quality;
  if (word.empty() && ppd)
    for (auto const& option : ppd->options())
      if (auto const* choice = option.name == "cupsPrintQuality" || option.name == "OutputMode" ? option.default_choice() : nullptr)
        word = choice->name == "Draft" ? "draft" : choice->name == "High" || choice->name == "Best" ? "high" : "normal";
  return word == "draft" ? "3" : word == "high" ? "5" : "4";
}

std::string colour_mode(Target const& target, Ppd const* ppd, Offer const* offer) {
  if (!target.press.print_color_mode.empty()) return target.press.print_color_mode;
  if (offer)
    if (auto const found = offer->attributes.find("print-color-mode-supported"); found != offer->attributes.end() && !found->second.empty())
      return std::find(found->second.begin(), found->second.end(), "color") == found->second.end() ? found->second.front() : "color";
  return ppd && !ppd->prints_colour() ? "monochrome" : "color";
}

}  // namespace

QueueOptions queue_options(Target const& target, PressSetup const& setup, Ppd const* ppd, Offer const* offer) {
  QueueOptions options;
  for (auto const& setting : setup.settings) options.emplace_back(setting.option, setting.choice);
  auto const guard = [&](std::string const& name, std::string const& value) {
    if (!has(options, name)) options.emplace_back(name, value);
  };
  for (auto const& [name, value] : kGuards) guard(name, value);
  // CUPS' filters take MirrorPrint for themselves and reverse once, whatever "mirror" says; any other option reverses at the press, after them.
  auto const* mirror = setup.about(Topic::mirror);
  bool const by_filter = target.reverse_at == ReverseAt::printer && mirror && mirror->option == "MirrorPrint";
  if (!by_filter) guard("mirror", "false");
  guard("print-quality", quality(target, ppd));
  guard("print-color-mode", colour_mode(target, ppd, offer));
  if (ppd && !ppd->driver_counts()) guard("page-logging", "on");
  // The driver's own options that the queue has a default of its own for: back to what the driver has.
  if (ppd && offer)
    for (auto const& option : ppd->options()) {
      auto const* choice = option.default_choice();
      if (choice && option.name != "PageRegion" && offer->attributes.contains(option.name + "-default")) guard(option.name, choice->name);
    }
  guard("copies", std::to_string(target.copies));
  return options;
}

std::vector<Finding> lasting_defaults(Offer const& offer, QueueOptions const& options) {
  constexpr std::string_view kEnding = "-default";
  std::vector<Finding> findings;
  for (auto const& [attribute, values] : offer.attributes) {
    if (!attribute.ends_with(kEnding)) continue;
    std::string const name = attribute.substr(0, attribute.size() - kEnding.size());
    if (has(options, name) || leaves_page_alone(name) || name == "PageRegion" || name == "mirror") continue;
    auto const* value = first_of(offer.attributes, attribute);
    add_finding(findings, "press.default", Level::hold,
                "the queue has a default of its own, " + name + "=" + (value ? *value : "") +
                    ", that a job cannot be sure to undo: take it off the queue (lpadmin -p QUEUE -R " + attribute +
                    "), or name the option in the press's table");
  }
  return findings;
}

bool counts_sheets(Ppd const& ppd) { return !ppd.has_filters() || !ppd.driver_counts(); }

}  // namespace layright
