// Which way letters read that are outlines or pixels: lines of them are read as they are and reversed, each in both turns, and the
// readings are compared. Decides only when clear.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "raster/page_picture.h"
#include "reading/letter_engine.h"
#include "reading/line_asker.h"
#include "sheet/target.h"

namespace layright {

struct LettersResult {
  Reading reading = Reading::unknown;
  std::vector<std::string> words;         // what was read, so that a person can agree; at most kMostWords
  std::vector<Rect<SeenSpace>> where;     // the lines that decided; for mixed: those that read the other way than most
  std::vector<LineSaid> lines;            // all that were tried
  int trials = 0;                         // lines handed to the engine
  bool seen = false;                      // something looks like letters, understood or not
  double read_area = 0, unread_area = 0;  // square points of lines that were understood, and of those that look like letters and were not
  bool out_of_time = false;
};
inline constexpr std::size_t kMostWords = 12;

/// Call before a sandbox closes: opens and loads all that reading needs (LetterEngine::load). About 0.1 s for each language.
Result<std::unique_ptr<LetterEngine>> prepare_letters(std::vector<std::string> const& languages);

/// Tries the most promising lines until the answer is clear, or `seconds` of processor time are gone.
LettersResult read_letters(LetterEngine& engine, PagePicture const& picture, double seconds = 2.5);

/// Whether anything in the picture is worth handing to the engine at all.
bool could_hold_letters(PagePicture const& picture);

}  // namespace layright
