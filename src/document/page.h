// One page as the file describes it: boxes, rotation, unit. Plain values; nothing here knows the PDF library.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "document/record.h"
#include "geometry/matrix.h"
#include "geometry/seen.h"
#include "geometry/space.h"

namespace layright {

/// Something about a box that is not as ISO 32000 wants it.
struct BoxFault {
  std::string box;     // "MediaBox", "CropBox", …, "UserUnit"
  std::string what;    // "is missing", "has no area", "is not four numbers", "reaches beyond the media box", …
  bool usable = true;  // false: no page is left to look at (then the page is held)
};

/// Boxes in the file's user space, normalised, inherited and defaulted (ISO 32000-1, 7.7.3.3, 14.11.2). `crop` is clipped to the
/// media box; the others are as the file gives them.
struct PageBoxes {
  Rect<PageSpace> media, crop, bleed, trim, art;
};

struct Page {
  int number = 1;  // from 1
  PageBoxes boxes;
  std::vector<BoxFault> box_faults;
  std::optional<Turn> clockwise = Turn::none;  // nothing when Rotate is no multiple of 90
  std::string rotate_as_written;               // for messages
  double user_unit = 1;
  bool has_boxes = true;                 // false: the page object is broken, nothing is known of it
  bool usable = true;                    // false: boxes leave nothing to look at, or the page is broken
  std::string trouble;                   // why, when not usable
  Matrix<PageSpace, SeenSpace> to_seen;  // only where usable and clockwise is there
  SeenSize seen;
  int printing_annotations = 0;      // that print, and that `lay` makes part of the page
  int annotations_left_out = 0;      // that print, but each program makes up what they look like: `lay` leaves them out
  int annotations_losing_words = 0;  // the same, and words would be lost
  bool has_trim = false;             // the file gives a TrimBox of its own
  bool active_content = false;       // page or annotation actions that run, launch or send
  std::optional<LayRecord> record;   // layright's own, with whether it still holds

  /// It is the white plate of another page, or of another file's page, by a record that holds.
  bool is_plate() const { return record && record->holds && record->is_plate; }
  Rect<SeenSpace> seen_trim() const { return to_seen.apply(boxes.trim); }
};

}  // namespace layright
