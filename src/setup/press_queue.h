// A press as the queue that stands for it: where it is, whose driver it has, what its instance adds.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "setup/ppd.h"
#include "setup/service.h"
#include "sheet/press.h"

namespace layright {

/// The press's address, or that of its queue at the CUPS server that this user has (CUPS_SERVER, client.conf); nothing where it has neither.
std::optional<std::string> press_address(Press const& press);
/// At that address. Error (usage) where the press has none.
Result<std::unique_ptr<PrintService>> connect_press(Press const& press);
/// The CUPS server that this user has.
Result<std::unique_ptr<PrintService>> connect_cups();
std::string queue_address(std::string const& queue);

/// What stands at a press's address.
struct PressAnswer {
  Offer offer;
  std::string ppd_text;      // of a queue with a driver; else empty
  std::unique_ptr<Ppd> ppd;  // the same, opened; else null
};
Result<PressAnswer> ask_press(PrintService& service, std::string const& name);

/// Holds: a class of queues, a queue without a driver, and one whose driver CUPS made up of what the printer says of itself: that one drops
/// print-scaling, so the printer may scale (measured: tests/setup/queue_defaults_test.cpp).
std::vector<Finding> unfit_queue(PressAnswer const& answer);

/// The driver of a press: the PPD that its table names, else its queue's; null where it has neither. `told`: why the queue could not be asked.
Result<std::unique_ptr<Ppd>> driver_of(Press const& press, std::string& reported);

/// press.queue, holds: where the PPD that the table names is not the queue's; both are named. Defaults that the setup overrides do not count.
std::vector<Finding> queue_mismatches(Press const& press, Ppd const& named, Ppd const& queue, PressSetup const& setup);

/// QUEUE/INSTANCE: what lpoptions keeps for the instance joins the press's own options, where the driver knows it and the table says nothing.
/// What else it keeps is reported, since the job says it outright. Error (usage) when there is no such instance.
Outcome add_instance(Press& press, Ppd const* driver, std::vector<Finding>& findings);

/// Names of the instances of all queues that lpoptions keeps: "film/night".
std::vector<std::string> known_instances();

}  // namespace layright
