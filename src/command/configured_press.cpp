#include "command/configured_press.h"

#include <nlohmann/json.hpp>

#include "report/report.h"
#include "setup/press_queue.h"
#include "setup/queue_suits.h"
#include "setup/state_words.h"

namespace layright {

std::string first_of(Offer const& offer, char const* attribute) {
  auto const found = offer.attributes.find(attribute);
  return found == offer.attributes.end() || found->second.empty() ? std::string() : found->second.front();
}

std::string press_state(Offer const& offer) {
  std::string const state = first_of(offer, "printer-state");
  if (first_of(offer, "printer-is-accepting-jobs") == "false") return "takes no jobs now";
  return state == "3" ? "idle" : state == "4" ? "printing" : state == "5" ? "stopped" : "state unknown";
}

ConfiguredPress ask_configured(Configuration const& configuration, Press const& press, double seconds) {
  ConfiguredPress told{press.name, press_address(press).value_or(""), {}, {}, {}, {}};
  if (told.address.empty()) return told;
  auto const service = PrintService::connect(told.address, {press.user, press.password_file}, seconds);
  auto const answer = service ? ask_press(**service, press.name) : Result<PressAnswer>(service.error());
  if (!answer) {
    told.troubles.push_back(answer.error().message);
    return told;
  }
  auto const& offer = answer->offer;
  told.model = first_of(offer, "printer-make-and-model");
  told.state = press_state(offer);
  if (auto const reasons = offer.attributes.find("printer-state-reasons"); reasons != offer.attributes.end())
    for (auto const& reason : reasons->second)
      if (!reason.empty() && reason != "none" && !reason.ends_with("-report")) told.troubles.push_back(state_reason_words(reason));
  for (auto const& [name, target] : configuration.targets) {
    if (target.press.name != press.name) continue;
    auto const suits = queue_suits(target, *answer, configuration.unit);
    told.targets.push_back({name, suits.suits, suits.why});
  }
  return told;
}

Json configured_press_json(ConfiguredPress const& press) {
  Json troubles = Json::array(), targets = Json::array();
  for (auto const& each : press.troubles) troubles.push_back(shown_name(each));
  for (auto const& each : press.targets) targets.push_back({{"target", each.target}, {"suits", each.suits}, {"why", shown_name(each.why)}});
  return {{"press", press.name},
          {"address", shown_name(press.address)},
          {"model", shown_name(press.model)},
          {"state", press.state},
          {"troubles", troubles},
          {"targets", targets}};
}

}  // namespace layright
