// Looks for what tells how a page reads, the cheapest first.
#pragma once
#include <optional>

#include "check/check.h"
#include "marks/reader.h"
#include "reading/letters.h"

namespace layright {

struct ReadingWanted {
  bool look = false;                // at letters, where nothing cheaper tells all
  bool check_letters = false;       // look even where a person has said how the page reads
  std::optional<Reading> incoming;  // a person's word: right or wrong
};

struct ReadingFound {
  PageReading reading;
  bool asks_letters = false;  // letters must be looked at, and there is no engine
};

/// `letters` may be null. Live text is not asked alone where other marks could be letters.
ReadingFound reading_of_page(Page const& page, Marks const& marks, MarksReader& reader, LetterEngine* letters, Target const& target,
                             ReadingWanted const& wanted);

}  // namespace layright
