#include <CLI/CLI.hpp>
#include <memory>
#include <nlohmann/json.hpp>

#include "command/command.h"
#include "command/configured_press.h"
#include "command/fail_at_press.h"
#include "command/file_run.h"
#include "command/target_options.h"
#include "report/page_json.h"
#include "report/report.h"
#include "setup/queue_suits.h"

namespace layright {
namespace {

constexpr double kPressSeconds = 10;  // of all questions to one press

struct PressesWords {
  TargetWords target;
  std::string format = "text", press;
};

struct Row {
  std::string queue, model, state;
  QueueSuits suits;
};

/// `seconds`: what is left of all talk; it goes down.
Row row_of(std::string const& name, Offer& said, Target const& target, Unit unit, double& seconds) {
  Row row{name, first_of(said, "printer-make-and-model"), press_state(said), {}};
  if (first_of(said, "printer-uri-supported").find("/classes/") != std::string::npos) {
    said.is_class = true;
    row.suits = queue_suits(target, {std::move(said), {}, nullptr}, unit);
    return row;
  }
  auto const service = PrintService::connect(queue_address(name), {}, seconds);
  if (!service) {
    row.suits.why = service.error().message;
    return row;
  }
  auto const answer = ask_press(**service, name);
  seconds = (*service)->seconds_left();
  if (answer) {
    row.suits = queue_suits(target, *answer, unit);
    if (answer->offer.is_queue && !answer->ppd && row.model.empty()) row.model = "no driver";
  } else {
    row.suits.why = answer.error().message;
  }
  return row;
}

void report(Row const& row) {
  std::fprintf(stdout, "%s: %s; %s\n  %s: %s\n", shown_name(row.queue).c_str(), shown_name(row.model).c_str(), row.state.c_str(),
               row.suits.suits ? "suits" : "does not suit", shown_name(row.suits.why).c_str());
}

std::string list_of(std::vector<std::string> const& words) {
  std::string text;
  for (auto const& each : words) text += (text.empty() ? "" : ", ") + shown_name(each);
  return text;
}

void report(ConfiguredPress const& press) {
  auto const troubles = list_of(press.troubles);
  std::fprintf(stdout, "%s (%s): %s%s%s%s\n", press.name.c_str(), shown_name(press.address).c_str(), shown_name(press.model).c_str(),
               press.model.empty() ? "" : "; ", press.state.empty() ? "does not answer" : press.state.c_str(),
               troubles.empty() ? "" : (": " + troubles).c_str());
  for (auto const& each : press.targets)
    std::fprintf(stdout, "  %s for %s: %s\n", each.suits ? "suits" : "does not suit", each.target.c_str(), shown_name(each.why).c_str());
}

/// One press of the configuration, by its own address.
ExitStatus run_press(PressesWords const& w, bool as_json) {
  auto const configuration = configuration_of(w.target.config);
  if (!configuration) return fail(configuration.error());
  auto const found = configuration->presses.find(w.press);
  if (found == configuration->presses.end()) return fail(usage_error("--press: there is no press " + shown_name(w.press) + " in the configuration"));
  auto const press = ask_configured(*configuration, found->second, kPressSeconds);
  if (press.address.empty())
    return fail(usage_error("the press " + press.name + " has no address to ask: give it queue = \"…\" or ipp = \"ipp://…\" in its table"));
  if (as_json) std::fprintf(stdout, "%s\n", json_text({{"configured", Json::array({configured_press_json(press)})}}).c_str());
  else report(press);
  return press.state.empty() ? ExitStatus::try_again : ExitStatus::ready;
}

ExitStatus run_presses(PressesWords const& w) {
  auto const format = parse_format(w.format);
  if (!format) return fail(format.error());
  if (!w.press.empty()) return run_press(w, *format == ReportFormat::json);
  auto const resolved = resolve_target(w.target);
  if (!resolved) return fail(resolved.error());
  auto const cups = connect_cups();
  if (!cups) return fail(cups.error());
  auto queues = (*cups)->queues();
  if (!queues) {
    complain("cannot reach CUPS. CUPS_SERVER or client.conf says where it is");
    return fail_at_press(queues.error(), **cups);
  }
  bool const as_json = *format == ReportFormat::json;
  Json list = Json::array();
  auto const instances = known_instances();
  double seconds = (*cups)->seconds_left();
  for (auto& [name, said] : *queues) {
    auto const row = row_of(name, said, resolved->target, resolved->unit, seconds);
    if (as_json)
      list.push_back({{"queue", row.queue}, {"model", row.model}, {"state", row.state}, {"suits", row.suits.suits}, {"why", row.suits.why}});
    else report(row);
    for (auto const& instance : instances)
      if (!as_json && instance.starts_with(name + "/"))
        std::fprintf(stdout, "  also as %s, with what lpoptions keeps for it\n", shown_name(instance).c_str());
  }
  if (as_json) std::fprintf(stdout, "%s\n", json_text({{"presses", list}}).c_str());
  else if (queues->empty()) complain("CUPS has no queues. Make one with lpadmin, or give the press its address: ipp = \"ipp://…\"");
  return ExitStatus::ready;
}

}  // namespace

Run add_presses(CLI::App& command) {
  auto words = std::make_shared<PressesWords>();
  add_target_options(command, words->target);
  command.add_option("--press", words->press, "a press of layright.toml by its own address, in place of the queues")->type_name("NAME");
  command.add_option("--format", words->format, "text or json")->capture_default_str()->type_name("FORMAT");
  return [words] { return run_presses(*words); };
}

}  // namespace layright
