// Where everything of the trial sheet goes.
#pragma once
#include "report/paper_module/paper_canvas.h"

namespace layright {

/// The whole page. Throws what PaperCanvas throws.
std::string draw_trial_sheet(Target const& target, Unit unit);

}  // namespace layright
