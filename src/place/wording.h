// Words that say how far off something is, the same in refusals and in findings.
#pragma once
#include <string>

#include "geometry/length.h"

namespace layright {

/// A distance for people that is never rounded to nothing: "0.31 in", but "0.02 pt" or "less than 0.001 pt" where the unit would show 0.
std::string format_excess(double points, Unit unit);

/// A scale in percent, as `--scale` takes it, rounded so that what is reported does fit: down from `hi` ("94.1%"), or up from `lo`, with as
/// many decimals as it takes to stay between the two.
std::string format_scale_down(double lo, double hi);
std::string format_scale_up(double lo, double hi);
/// A scale as it is, for telling: "94.12%".
std::string format_scale(double scale);

}  // namespace layright
