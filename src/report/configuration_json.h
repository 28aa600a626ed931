// The sheets, presses and targets of a configuration in JSON.
#pragma once
#include "report/page_json.h"
#include "sheet/configuration.h"

namespace layright {

Json configuration_json(Configuration const& configuration);

}  // namespace layright
