// White plates read back: they are all that a file has more than the one without them.
#pragma once
#include "write/white_plate.h"

namespace layright {

/// That each page of `plated` is the page of `laid` and its plate, and nothing else. Error (internal): how it differs. Neither may have been
/// changed in memory; both are by this.
Outcome prove_plates(Document& laid, Document& plated, std::vector<WhitePlate> const& plates, PlateForm const& form);

/// The same of a file of plates alone.
Outcome prove_plate_file(Document& file, std::vector<WhitePlate> const& plates, PlateForm const& form);

}  // namespace layright
