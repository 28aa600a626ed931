#pragma once
#include "command/command.h"
#include "setup/service.h"

namespace layright {

/// As fail(), for what a press said; 77 where it wants to know who asks.
ExitStatus fail_at_press(Error const& error, PrintService const& service);

}  // namespace layright
