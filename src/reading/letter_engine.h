// Tesseract, loaded when asked for: reads one line of letters from a picture, from data in memory, on one thread.
#pragma once
#include <memory>
#include <string>
#include <vector>

#include "base/result.h"
#include "raster/blobs.h"

namespace layright {

/// One word of a line, with how sure the engine is of each of its characters.
struct ReadWord {
  std::string text;              // UTF-8
  std::vector<int> characters;   // Unicode values
  std::vector<double> sureness;  // of each character, 0 to 1
};

class LetterEngine {
 public:
  /// Loads the library and the data of `languages` (names such as "eng", "fra"), and the data of a language of each neighbouring script
  /// that none of them is written in and that is installed. All files are opened here and none later, so that a sandbox may close afterwards. Sets OMP_THREAD_LIMIT to 1 for the process. Error (usage) that names the Debian package when a
  /// language is missing, and when the library is.
  static Result<std::unique_ptr<LetterEngine>> load(std::vector<std::string> const& languages, bool with_neighbours = true);
  ~LetterEngine();
  /// Dark letters on light ground, upright, one line, little white around it. `language` counts from 0: first those that were asked for,
  /// then the neighbours, each of which is made ready when it is first used (a hundredth of a second). Nothing where that fails.
  std::vector<ReadWord> read_line(GreyPicture const& line, std::size_t language);
  bool ready(std::size_t language);        // makes it so; false where its data is damaged
  std::size_t languages() const;           // that were asked for
  bool latin(std::size_t language) const;  // whether it is written in Latin letters
  std::size_t neighbours() const;          // of other scripts whose letters can be taken for theirs: Latin, Greek, Cyrillic

 private:
  struct Members;
  explicit LetterEngine(std::unique_ptr<Members>);
  std::unique_ptr<Members> m_;
};

}  // namespace layright
