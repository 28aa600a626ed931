// The limits that checks go by, and what a profile makes of their findings.
#pragma once
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "geometry/length.h"

namespace layright {

/// The limits that checks go by. Defaults say what they rest on; the configuration may change them.
struct Limits {
  Length size_tolerance = Length::points(0.5);      // page.size. Our own: well inside a press's registration
  Length margin_tolerance = Length::points(0.01);   // ink.margin, placement: arithmetic noise only
  Length cut = Length::points(1);                   // ink.cut: how far a mark may pass the edge of what is seen
  Length guide_stroke = Length::points(3);          // ink.guide: the widest stroke that is taken for a guide
  Length guide_near = Length::points(9);            // ink.guide: how near to the live area's or the page's edge
  double seconds_a_page = 6;                        // file.limit
  double seconds_a_file = 60;                       // file.limit: of processor time, for all its pages together
  double memory_mb = 512;                           // file.limit
  double least_density = 10, most_density = 10000;  // picture.density: pixels to the inch that can be meant. Our own
  double most_megapixels = 1500;                    // file.limit: of one picture that is no PDF. Our own
  double most_packed_files = 1000;                  // file.limit: in one ZIP. Our own
  double most_unpacked_mb = 1000;                   // file.limit: what a ZIP unpacks to, all in all. Our own
  // Of the art, at the size that it has on the sheet. Common practice, no published source, unless another is named.
  double picture_ppi = 150, bit_ppi = 600;                                    // picture.ppi: the least, of pictures and of one-bit ones
  double picture_fine_ppi = 600, bit_fine_ppi = 2400;                         // picture.fine: the most
  double mask_ppi = 150;                                                      // picture.mask
  double pixel_ratio = 1.1;                                                   // picture.square. Our own
  double jpeg_quality = 50;                                                   // picture.jpeg
  Length line_thin = Length::points(0.5), line_reversed = Length::points(1);  // line.thin, line.reversed
  Length text_small = Length::points(6), text_tint = Length::points(8), text_reversed = Length::points(8);  // text.*: the em
  Length rich_text = Length::points(12);  // colour.black: the em from which on black may have other inks in it
  std::vector<std::string> colour_spaces = {"gray", "rgb", "cmyk", "lab", "indexed", "spot", "inks", "other"};  // colour.space
  std::vector<std::string> white_inks = {"White"};  // white.*, colour.spot: names of separations that are white
  bool standard_fonts = false;                      // font.embedded: tell the standard 14 as well
  double ground_pct = 90, scan_pct = 90;            // page.ground, page.scan: of the extents of all ink
  double faint_pct = 20, faint_area_pct = 25;       // ink.faint: the strongest tint that is faint; reported from this share of the ink's extents
  double total_ink_pct = 300;                       // ink.total
  double white_under_pct = 50;                      // white.under: the tint of white from which on it lies under something
  double most_marks = 100000;                       // page.marks
  Length weed_width = Length::points(0.5);          // ink.island, ink.gap: the narrowest that holds, or opens
  Length weed_square = Length::points(0.7);         // the same: the least area, as the side of a square that has it
  Length weed_length = Length::points(6);           // the same: how long a thin part of something wider is before it is reported
};

/// What a profile makes of a check's findings.
enum class CheckLevel { off, note, hold };
using CheckLevels = std::map<std::string, CheckLevel, std::less<>>;  // by the check's id
/// [checks.NAME]: a set of levels and limits that targets name.
struct CheckProfile {
  CheckLevels levels;
  Limits limits;
};

/// Words of the command line, the configuration and JSON. Parsing gives an error (usage) that lists the words.
Result<CheckLevel> parse_check_level(std::string_view);

}  // namespace layright
