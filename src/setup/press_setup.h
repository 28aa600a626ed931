// The setup of whatever press a target names: in its PPD's words, else in IPP's.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "setup/ppd.h"
#include "setup/setting.h"

namespace layright {

struct PreparedPress {
  std::unique_ptr<Ppd> ppd;  // the press's, or its queue's; null where it has none
  PressSetup setup;
};

/// Errors as Ppd::open and Ppd::setup; without a PPD there are none.
Result<PreparedPress> prepare_press(Target const& target, std::optional<Rect<SheetSpace>> const& ink, Unit unit);

/// The target in the words of a driver that is open already, with what the trial sheet showed. Errors as Ppd::setup.
Result<PressSetup> setup_with(Ppd& ppd, Target const& target, std::optional<Rect<SheetSpace>> const& ink, Unit unit);

/// The target in IPP's keywords, for a press without a PPD. `ink` is where ink will lie in the file, where known.
PressSetup keyword_setup(Target const& target, std::optional<Rect<SheetSpace>> const& ink, Unit unit);

/// `option=choice`, one a line: what `lp -o` takes. See queue_options.
std::string option_lines(std::vector<std::pair<std::string, std::string>> const& options);

}  // namespace layright
