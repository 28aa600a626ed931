// How many sheets boxes need at least, however they are arranged.
#pragma once
#include "gang/boxes.h"

namespace layright {

/// By dual feasible functions (S. P. Fekete, J. Schepers, "New classes of fast lower bounds for bin packing problems", Math. Program. 91, 2001;
/// F. Clautiaux, C. Alves, J. Valério de Carvalho, "A survey of dual-feasible and superadditive functions", Ann. Oper. Res. 179, 2010): sides are
/// weighed so that no sheet can hold boxes of more than one. Boxes that may turn count by the lesser of both ways; on a square sheet by their mean.
int fewest_sheets(GangBoxes const& boxes);

}  // namespace layright
