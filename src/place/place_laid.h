// Places a page that was laid before: what nobody asks to be changed stays as its record says.
#pragma once
#include "document/record.h"
#include "place/correction.h"

namespace layright {

/// From the record's source. With nothing asked (PlacementOptions::asked) the page keeps its size and its place on the printed sheet, whoever
/// reverses now; where it cannot lie so any more (another sheet, wider margins) it keeps its size and its turn and is placed anew. A scale or
/// size that is asked counts from the source; a turn or a place that is asked leaves the size.
PlaceResult place_laid(LayRecord const& record, Target const& target, PlaceSubject const& subject, bool reverse, Unit unit);

}  // namespace layright
