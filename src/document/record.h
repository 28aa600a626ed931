// What layright writes into a laid page about what it did (a page-piece dictionary, ISO 32000-1, 14.5). Believed only while the page
// still matches its digest.
#pragma once
#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/matrix.h"
#include "geometry/seen.h"
#include "geometry/space.h"
#include "sheet/target.h"

namespace layright {

struct LayRecord {
  bool holds = false;                         // the digest matches what the page is now
  std::string layright;                       // version that wrote it
  std::string source_sha256;                  // of the customer's file
  std::string target;                         // name, or empty
  Rect<SheetSpace> sheet;                     // the page that was laid
  Matrix<SeenSpace, SheetSpace> placement;    // from the source's seen space
  Matrix<SheetSpace, SheetSpace> correction;  // what comes last in it to undo what the press does; identity: nothing
  double scale = 1;                           // scale, turn and reversal are those before the correction
  Turn turn = Turn::none;
  bool reversed = false;
  bool reversed_later = false;                // the printer or the RIP was to reverse it once more
  Reading reading = Reading::unknown;         // of the source page, as it came in
  std::string reading_from = "none";          // record, operator, text, letters, assumed, none
  SeenSize source_seen;                       // what was seen of the source
  std::optional<Rect<SeenSpace>> source_ink;  // in the source's seen space, as first found; nothing on a blank page
  bool ink_known = true;                      // false: the page was placed whole, and nobody looked at its ink
  Rect<SeenSpace> source_trim;
  bool white_prints = false;                 // paper-white counted as ink when source_ink was found
  bool other_ink_known = false;              // the page was laid from there for a target that takes white the other way: by that count
  std::optional<Rect<SeenSpace>> other_ink;  // its ink was this. Both are kept, so that laying forth and back ends where it began
  std::string plate;  // of its white plate: settings, resolution, digest; or empty. Of what the plate needs on the page is its last content stream
  bool is_plate = false;                        // the page is itself the white plate of the art that the rest tells of
  std::vector<std::string> accepted;            // ids of checks whose holds, on this page or of the file, a person accepted
  Matrix<PageSpace, SeenSpace> source_to_seen;  // of the source page; src/write fills it in and lays again by it
};

/// Whether a person had accepted holds of this check when the page was laid.
inline bool accepted_in(LayRecord const& record, std::string_view id) { return std::ranges::find(record.accepted, id) != record.accepted.end(); }

}  // namespace layright
