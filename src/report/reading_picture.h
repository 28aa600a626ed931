// A picture of the lines that were looked at to tell how a page reads, with what was read in them as they are and reversed.
#pragma once
#include <string>
#include <vector>

#include "report/proof.h"

namespace layright {

struct ReadingPictureLine {
  Rect<SeenSpace> where;
  std::string words_right, words_wrong;  // as they may be shown
  double doubt_right = 1, doubt_wrong = 1;
  double evidence = 0;
};

struct ReadingPicturePage {
  std::string file;  // as it may be shown
  int number = 1;
  SeenSize seen;
  std::string reading, decided_by, sentence;  // how it reads, what tells it, what follows
  long text_right = 0, text_wrong = 0;        // letters of live text
  std::string letters;                        // "read", "not understood", "none", or empty where nobody looked
  std::vector<ReadingPictureLine> lines;
  PagePicture picture;  // all that is seen, on white; empty where it could not be drawn
};

struct ReadingPicture {
  ProofForm form = ProofForm::png;
  std::vector<ReadingPicturePage> pages;  // PNG and SVG: one
};

/// What is told of a page for it; the picture is the caller's to add.
ReadingPicturePage reading_picture_page(PageSummary const& page, std::string const& file);

/// Its bytes, by the module of the proof. Errors (internal): the module is missing, or the picture could not be made.
Result<std::string> make_reading_picture(ReadingPicture const& picture);

}  // namespace layright
