// Reads one straightened line of letters in both readings and both turns, and says how much that tells.
#pragma once
#include <string>
#include <vector>

#include "reading/letter_engine.h"

namespace layright {

/// What the engine made of a line in one way to lie.
struct LineTrial {
  std::vector<ReadWord> words;
  double characters = 0;
  double doubt = 1;  // per character: what the engine is not sure of, and what text seldom has
};

/// How a strip is turned and reversed for a trial. The first two are right readings of a strip that reads right.
enum class Way { upright, turned, reversed, reversed_turned };

LineTrial read_way(LetterEngine& engine, std::size_t language, GreyPicture const& strip, Way way);

/// Doubt when the text is expected to have this many characters: missing ones are doubtful.
double doubt_of(LineTrial const& trial, double expected);

/// Letters and digits that another reading would not leave the same: neither reversed, nor reversed and turned. None in a longer line that is one
/// character for more than half.
double decisive_letters(std::vector<ReadWord> const& words);

}  // namespace layright
