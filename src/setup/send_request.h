// What goes over the line for a laid file: for a queue with a PPD its options, else IPP's own attributes.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "geometry/rect.h"
#include "geometry/space.h"
#include "setup/press_queue.h"
#include "setup/service.h"
#include "sheet/target.h"

namespace layright {

struct SendAsked {
  SendRequest request;
  std::vector<Finding> findings;  // of level hold: for a person before a sheet is spent
  bool counts_sheets = true;      // false: nobody may count what comes out, so that none counted says nothing
};

/// `path` is sent under the name `job_name`; `ink`: where it lies on the sheet. Errors: those of opening the press's PPD; hold where the press
/// cannot take the sheet; usage for an instance that does not exist.
Result<SendAsked> ask_for(Target const& target, PressAnswer const& press, std::string const& path, std::string const& job_name,
                          std::optional<Rect<SheetSpace>> const& ink, Unit unit);

/// Only one page of the file.
void ask_for_page(SendAsked& asked, int page);

}  // namespace layright
