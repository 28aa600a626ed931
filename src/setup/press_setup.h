// The setup of whatever press a target names: in its PPD's words, else in IPP's.
#pragma once
#include <memory>
#include <optional>

#include "setup/ppd.h"
#include "setup/setting.h"

namespace layright {

struct PreparedPress {
  std::unique_ptr<Ppd> ppd;  // null where the press names none
  PressSetup setup;
};

/// Errors as Ppd::open and Ppd::setup; without a PPD there are none.
Result<PreparedPress> prepare_press(Target const& target, std::optional<Rect<SheetSpace>> const& ink, Unit unit);

/// The target in IPP's keywords, for a press without a PPD. `ink` is where ink will lie in the file, where known.
PressSetup keyword_setup(Target const& target, std::optional<Rect<SheetSpace>> const& ink, Unit unit);

/// `option=choice`, one a line: what `lp -o` takes.
std::string option_lines(PressSetup const& setup);

}  // namespace layright
