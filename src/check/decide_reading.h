// How a page reads and how that is known: the record, a person's word, live text, letters, what the target takes for granted, nothing.
#pragma once
#include <optional>

#include "check/check.h"
#include "reading/text_reading.h"

namespace layright {

/// What was found out, in the page's seen space; absent where nobody looked.
struct ReadingEvidence {
  LayRecord const* record = nullptr;  // only one that holds
  std::optional<Reading> incoming;    // right or wrong
  TextReadingResult const* text = nullptr;
  PageReading const* letters = nullptr;  // what the letters say that live text does not cover: by_letters, where, words, lines and the like
};

/// The first in the order above decides; what contradicts a person's word is told in `conflict`. Live text decides only for what it covers:
/// letters beside it that read the other way make the page mixed, and more of them than live text, not understood, leave it unknown. With
/// nothing to go by the reading is what the target takes for granted ("assumed"), if anything.
PageReading decide_reading(ReadingEvidence const& evidence, Target const& target);

/// How a laid page reads now, by its record.
Reading reading_by(LayRecord const& record);

}  // namespace layright
