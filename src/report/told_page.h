// A page as a child tells it, read back in the parent.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "check/finding.h"
#include "geometry/seen.h"

namespace layright {

struct ToldFinding {
  std::string check, level, message;
  bool accepted = false;
};

struct ToldPlacement {
  double scale = 1;
  std::optional<double> of_original;  // of a page that was laid before: counted from its source
  int turn = 0, printed_turn = 0;     // in the file, on the printed sheet
  bool reversed_later = false;        // the printer or the RIP reverses
  bool reversed = false, corrected = false, outside = false;
};

/// What reports and jobs need of it. Empty words and nothing stand for what was not told.
struct ToldPage {
  std::string json;  // page_text, known to be well-formed
  int number = 0;
  std::string member;  // of a file with several in it: the one that it comes from, any bytes; empty where it is the file itself
  Verdict verdict = Verdict::hold;
  std::optional<SeenSize> size;
  std::string reading, reading_from, reading_sentence;
  std::vector<std::string> reading_words;
  std::string toner_words;           // what it costs
  bool tells_placement = false;
  std::optional<ToldPlacement> placement;  // nothing where `lay` would refuse
  std::vector<ToldFinding> findings;
};

/// Picks it out of the text without building the rest. Nothing where the text is no JSON, or not of a page.
std::optional<ToldPage> read_told_page(std::string json);

/// Tells which file in a package the page comes from, in its JSON as well.
void name_member(ToldPage& page, std::string member);

}  // namespace layright
