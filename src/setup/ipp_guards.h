// What a printer's own defaults may not do to a page, in IPP's words.
#pragma once
#include <vector>

#include "setup/ipp.h"
#include "setup/service.h"

namespace layright {

/// Adds what undoes the printer's defaults, where `job` does not say it already. Gives holds for defaults that the printer does not let a job
/// undo.
std::vector<Finding> add_guards(Offer const& offer, std::vector<IppMember>& job);

}  // namespace layright
