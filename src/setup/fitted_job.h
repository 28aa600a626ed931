// A target in IPP's words as one press will take them.
#pragma once
#include <vector>

#include "setup/ipp.h"
#include "setup/service.h"

namespace layright {

struct FittedJob {
  std::vector<IppMember> attributes;
  std::vector<Finding> findings;  // holds: own options that are none, defaults that nothing undoes
};

/// What the press does not offer at all and nobody asked for in its table is left out, margins become the nearest that it offers inside the
/// sheet's own, and what its defaults would do to the page is undone.
FittedJob fitted_job(Target const& target, Offer const& offer);
/// Its attributes alone.
std::vector<IppMember> fitted_attributes(Target const& target, Offer const& offer);

}  // namespace layright
