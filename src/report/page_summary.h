// A page as it leaves the child that looked at it: what reports and jobs need, and nothing else.
#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "report/page_report.h"

namespace layright {

struct ColourSummary {
  std::string space;
  long marks = 0;
  std::vector<std::string> inks;         // names, for spot and inks
  std::optional<Rect<SeenSpace>> where;  // the first place
};

struct FontSummary {
  std::string name;
  bool embedded = false, type3 = false;
  long letters = 0;
};

/// Areas in square points as printed.
struct PlateSummary {
  int page = 0;
  double dpi = 0, ink_pt2 = 0, white_pt2 = 0;
};

/// Nothing stands for what was not reported.
struct PageSummary {
  int number = 0;
  std::string member;  // of a file with several in it: the one that it comes from, any bytes; empty where it is the file itself
  Verdict verdict = Verdict::hold;
  std::optional<PageBoxes> boxes;  // the next two go with them
  std::optional<Turn> clockwise;
  double user_unit = 1;
  std::optional<SeenSize> size;
  bool reports_ink = false, ink_known = true;
  std::optional<Rect<SeenSpace>> ink;  // nothing on a blank page
  std::optional<PageReading> reading;
  std::string reading_sentence;
  std::optional<std::vector<ImageUse>> images;
  std::optional<std::vector<InkCoverage>> inks;
  double total_ink_max_pct = 0;
  bool reports_placement = false;
  std::optional<Placement> placement;  // nothing where `lay` would refuse
  std::optional<Placement> as_asked;   // then: where it would lie at the size that is asked for
  std::optional<double> of_original;
  std::optional<TonerCost> toner;
  std::optional<PlateSummary> plate;
  bool is_plate = false;  // the page is a white plate by itself
  std::optional<std::vector<ColourSummary>> colours;
  std::optional<std::vector<FontSummary>> fonts;
  std::vector<Finding> findings;          // without those that a profile switched off …
  std::map<std::string, int> suppressed;  // … which are counted, by check
  std::string picture_data, reading_picture_data;
  Rect<SeenSpace> picture_area, reading_picture_area;
};

/// Text of any bytes becomes UTF-8, with U+FFFD for what is none; places that are no numbers are left out.
std::vector<Finding> reported_findings(std::vector<Finding> findings);
PageSummary page_summary(PageReport const& report);

/// A page of which only findings are known.
PageSummary page_summary(int number, std::vector<Finding> const& findings);

/// "white plate of 12.3 square inches".
std::string plate_words(PlateSummary const& plate, Unit unit);

/// How its reading is said: a word, or empty where nobody asked.
std::string reading_word(PageSummary const& page);

}  // namespace layright
