// All that was found out about one page, as the reports tell it.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "check/check.h"
#include "check/finding.h"
#include "document/art_structure.h"
#include "document/page.h"
#include "marks/marks.h"
#include "place/place.h"
#include "report/toner_cost.h"

namespace layright {

struct PageReport {
  Page page;
  std::optional<Marks> marks;  // nothing where nobody asked
  bool report_ink = false;     // an ink check, or everything, was asked for
  bool report_images = false;
  std::optional<PageInks> inks;           // where somebody asks
  std::optional<PlateNotes> plate;        // of the white plate, where the target has one and check made it
  std::optional<TonerCost> toner;         // where the press's toner has a price, and the page a placement
  std::optional<ArtStructure> structure;  // where a check of the art asks
  std::optional<PageReading> reading;
  std::string reading_sentence;  // what follows from it; only where the target asks how the printed sheet reads
  bool report_placement = false;
  std::optional<Placement> placement;  // what `lay` would do, from the page's seen space; nothing where it would refuse
  std::optional<Placement> as_asked;   // where there is none: where it would lie at the size that is asked for
  std::optional<double> of_original;   // of a page that was laid before: the scale counted from its source
  std::vector<Finding> findings;
  Verdict verdict = Verdict::ready;
  std::string picture_data;          // for the HTML report, as picture_data() makes it; empty where nobody asks
  Rect<SeenSpace> picture_area;      // what it shows
  std::string reading_picture_data;  // the same of the lines that were looked at and did not settle how the page reads
  Rect<SeenSpace> reading_picture_area;
};

}  // namespace layright
