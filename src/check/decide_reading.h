// How a page reads and how that is known: the record, a person's word, live text, letters, what the target takes for granted, nothing.
#pragma once
#include <optional>

#include "check/check.h"
#include "marks/text_reading.h"

namespace layright {

/// What was found out, in the page's seen space; absent where nobody looked.
struct ReadingEvidence {
  LayRecord const* record = nullptr;          // only one that holds
  std::optional<Reading> incoming;            // right or wrong
  TextReadingResult const* text = nullptr;
  PageReading const* letters = nullptr;       // from "letters"
};

/// The first in the order above decides; what contradicts it is told in `conflict`. With `unknown_reads` not hold and nothing to go by,
/// the reading is taken for granted ("assumed").
PageReading decide_reading(ReadingEvidence const& evidence, Target const& target);

/// How a laid page reads now, by its record.
Reading reading_by(LayRecord const& record);

}  // namespace layright
