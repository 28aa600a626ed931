// Whether a queue suits a sheet, and why.
#pragma once
#include <memory>
#include <optional>
#include <string>

#include "setup/press_queue.h"
#include "sheet/target.h"

namespace layright {

struct QueueSuits {
  bool suits = false;
  std::string why;  // in plain words, either way
};

/// By its driver where it has one, else by what it says of itself. Of the target's press only what any press may have counts: tray, media
/// type, exit; not the options of its own driver.
QueueSuits queue_suits(Target target, PressAnswer const& answer, Unit unit);

}  // namespace layright
