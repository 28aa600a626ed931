// Which way letters read that are outlines or pixels: lines of them are read as they are and reversed, each in both turns, and the
// readings are compared. Decides only when clear.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "marks/letter_engine.h"
#include "marks/line_trial.h"
#include "marks/page_picture.h"
#include "sheet/target.h"

namespace layright {

/// What one line of letters said.
struct LineSaid {
  Rect<SeenSpace> where;
  std::vector<std::string> words;  // in the likelier reading
  double characters = 0, letters = 0;  // in that reading: all of them, those that tell
  double promise = 0;              // of LetterLine
  bool confirmed = false;          // short or doubtful, and a second look found it again
  double doubt_right = 1, doubt_wrong = 1;  // doubt per character of the better turn, 0 to 1
  Way way = Way::upright;          // in which it was read best
  bool agrees = false;             // read well in the way that the other lines had settled, and in no other: no evidence of its own
  /// How much the line speaks for right (positive) or wrong (negative).
  double evidence = 0;
};

struct LettersResult {
  Reading reading = Reading::unknown;
  std::vector<std::string> words;      // what was read, so that a person can agree; at most kMostWords
  std::vector<Rect<SeenSpace>> where;  // the lines that decided; for mixed: those that read the other way than most
  std::vector<LineSaid> lines;         // all that were tried
  int trials = 0;                      // lines handed to the engine
  bool out_of_time = false;
};
inline constexpr std::size_t kMostWords = 12;

/// Call before a sandbox closes: opens and loads all that reading needs (LetterEngine::load). About 0.1 s for each language.
Result<std::unique_ptr<LetterEngine>> prepare_letters(std::vector<std::string> const& languages);

/// Tries the most promising lines until the answer is clear, or `seconds` of processor time are gone.
LettersResult read_letters(LetterEngine& engine, PagePicture const& picture, double seconds = 2.5);

}  // namespace layright
