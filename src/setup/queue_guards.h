// What a CUPS queue's own defaults may not do to a page: every option that changes one is said outright, and what no option of a job undoes
// is reported.
#pragma once
#include <string>
#include <utility>
#include <vector>

#include "setup/ppd.h"
#include "setup/service.h"
#include "setup/setting.h"
#include "sheet/target.h"

namespace layright {

using QueueOptions = std::vector<std::pair<std::string, std::string>>;

/// The setup as options of a job, and behind it the guards. `ppd`: the queue's, or null; `offer`: what the queue says of itself, or null
/// (then its defaults for the driver's own options are not known, and not undone).
QueueOptions queue_options(Target const& target, PressSetup const& setup, Ppd const* ppd = nullptr, Offer const* offer = nullptr);

/// Holds: defaults of the queue that none of these options undoes.
std::vector<Finding> lasting_defaults(Offer const& offer, QueueOptions const& options);

/// Whether somebody counts the sheets of a job with these options: the queue's driver, or a filter that was told to.
bool counts_sheets(Ppd const& ppd);

}  // namespace layright
