// What a printer's trays take, what lies in them, and how much toner there is, against what is asked.
#pragma once
#include <vector>

#include "setup/service.h"
#include "sheet/target.h"

namespace layright {

/// press.size: size, tray and type are taken together from media-col-database; press.feed; press.loaded: what lies in the tray
/// (media-col-ready).
void report_media(Target const& target, Offer const& offer, Unit unit, std::vector<Finding>& findings);

/// press.supply: marker-levels at or under what the press calls low (a note), or at nothing (a hold). Waste boxes are told when full.
void report_supplies(Offer const& offer, std::vector<Finding>& findings);

}  // namespace layright
