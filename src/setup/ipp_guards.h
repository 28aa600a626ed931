// What a printer's own defaults may not do to a page, in IPP's words.
#pragma once
#include <string>
#include <vector>

#include "setup/ipp.h"
#include "setup/service.h"

namespace layright {

/// Whether the default of this job attribute, standard or of CUPS, leaves the page alone, or is said by every job.
bool leaves_page_alone(std::string const& attribute);

/// Adds what undoes the printer's defaults, where `job` does not say it already. Gives holds for defaults that the printer does not let a job
/// undo, and for those of makers' own attributes.
std::vector<Finding> add_guards(Offer const& offer, std::vector<IppMember>& job);

}  // namespace layright
