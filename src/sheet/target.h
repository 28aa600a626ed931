// A target: a sheet, a press, the reading that the printed sheet needs, who reverses, and the limits that checks go by.
#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "geometry/length.h"
#include "geometry/turn.h"
#include "sheet/gang_options.h"
#include "sheet/heat_press.h"
#include "sheet/plate.h"
#include "sheet/press.h"
#include "sheet/reading.h"
#include "sheet/sheet.h"

namespace layright {

/// How the printed sheet must read; as_is: nobody asks.
enum class WantedReading { as_is, right, wrong };
/// The one party that reverses.
enum class ReverseAt { file, printer, rip };
/// What to take for granted where nothing tells how a page reads.
enum class UnknownReads { hold, right, wrong };
/// Which rendering intent the art wants (ISO 32000-1, 8.6.5.8): graphics or pictures; automatic: chosen from the art.
enum class Render { automatic, graphics, pictures };

/// Which rectangle of the page is scaled, fitted and placed.
enum class PlaceBy { ink, trim, page };
enum class Anchor { centre, top, bottom, left, right, top_left, top_right, bottom_left, bottom_right };

/// How the art shall be put on the sheet. One of: keep, fit, shrink, percent, or a width and/or height on the goods.
struct PlacementOptions {
  enum class Scale { keep, fit, shrink, percent };
  Scale scale = Scale::keep;
  double percent = 100;                 // only for Scale::percent
  std::optional<Length> width, height;  // of the `by` rectangle, upright as seen; both: fit inside both; then `scale` is keep
  std::optional<Turn> turn;             // of the printed sheet; nothing: auto
  PlaceBy by = PlaceBy::ink;
  Anchor at = Anchor::centre;
  Length offset_x, offset_y;   // to the right and up on the printed sheet
  bool allow_outside = false;  // ink may lie outside the live area
  /// What a person has said for this run, not the configuration: a page that was laid before keeps what nobody asks to be changed.
  struct Asked {
    bool size = false, turn = false, place = false;  // scale, width or height; turn; by, at or offset
    bool any() const { return size || turn || place; }
  } asked = {};
};

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
  double faint_pct = 20, faint_area_pct = 25;       // ink.faint: the strongest tint that is faint; from how much of the ink's extents on it is told
  double total_ink_pct = 300;                       // ink.total
  double white_under_pct = 50;                      // white.under: the tint of white from which on it lies under something
  double most_marks = 100000;                       // page.marks
  Length weed_width = Length::points(0.5);          // ink.island, ink.gap: the narrowest that holds, or opens
  Length weed_square = Length::points(0.7);         // the same: the least area, as the side of a square that has it
  Length weed_length = Length::points(6);           // the same: how long a thin part of something wider is before it is told
};

/// What a profile makes of a check's findings.
enum class CheckLevel { off, note, hold };
using CheckLevels = std::map<std::string, CheckLevel, std::less<>>;  // by the check's id
/// [checks.NAME]: a set of levels and limits that targets name.
struct CheckProfile {
  CheckLevels levels;
  Limits limits;
};

/// Laying white under or over colours: off, on, or a share of one full layer in percent. How much for which goods is the shop's to say; the
/// press's table says how much its driver can lay at most.
struct White {
  bool on = false;
  std::optional<double> percent;
};
inline constexpr double kMostWhitePercent = 400;  // our own: more is a slip of the finger

struct Target {
  std::string name;  // empty when made by hand or by default
  Sheet sheet;
  Press press;
  WantedReading reading = WantedReading::as_is;  // of the printed sheet
  ReverseAt reverse_at = ReverseAt::file;
  UnknownReads unknown_reads = UnknownReads::hold;  // letters were seen and not understood
  std::optional<UnknownReads> without_letters;      // nothing looks like letters; where nobody says, as unknown_reads
  White white;                                      // by the driver itself
  PlateOptions plate;                               // by a plate in the file, made from the art
  bool dark_goods = false;                          // goods = "dark"
  HeatPress heat;                                   // for the job sheet
  Render render = Render::automatic;
  int copies = 1;
  GangOptions ganged;  // where several pieces share a sheet
  PlacementOptions placement;
  std::optional<double> pixels_per_inch;  // of pictures that do not say how dense they are
  Limits limits;
  CheckLevels levels;                          // of its profile
  std::vector<std::string> letters = {"eng"};  // languages for reading letters, as Tesseract names them

  /// Paper-white marks are ink only where the press lays white.
  bool white_prints() const { return press.prints_white; }
};

/// Whether the press has a use for such a plate. Error (usage): why not.
Outcome check_plate_suits(PlateOptions const& plate, Press const& press);

/// The target asks for a white plate that lies so.
inline bool wants_plate(Target const& target, PlateAs as) { return target.plate.from != PlateFrom::off && target.plate.as == as; }

/// Words of the command line, the configuration and JSON, both ways. Parsing gives an error (usage) that lists the words.
std::string_view word(Reading);
std::string_view word(WantedReading);
std::string_view word(ReverseAt);
std::string_view word(Feed);
std::string_view word(Anchor);
std::string_view word(Render);
Result<WantedReading> parse_wanted_reading(std::string_view);  // "mirrored" and "reversed" are taken for wrong, here and below
Result<Reading> parse_incoming(std::string_view);              // right or wrong
Result<ReverseAt> parse_reverse_at(std::string_view);
Result<UnknownReads> parse_unknown_reads(std::string_view);
Result<bool> parse_goods(std::string_view);  // "light", or "dark": true
Result<Feed> parse_feed(std::string_view);
Result<PlaceBy> parse_place_by(std::string_view);
Result<Anchor> parse_anchor(std::string_view);
Result<Render> parse_render(std::string_view);
Result<CheckLevel> parse_check_level(std::string_view);
/// "keep", "fit", "shrink" or "N%": sets `scale` and `percent`.
Outcome parse_scale(std::string_view, PlacementOptions& into);
/// "auto" (nothing), "0", "90", "180", "270".
Result<std::optional<Turn>> parse_turn(std::string_view);
/// "eng", "eng+fra": languages as Tesseract names them.
Result<std::vector<std::string>> parse_letters(std::string_view);
/// "off", "on", or a share of one full layer such as "80%".
Result<White> parse_white(std::string_view);

/// Somebody reverses after the file: the printer or the RIP.
bool reverses_later(Target const&);

/// How the file itself must read for the printed sheet to read as the target wants, counting the one reversal that the printer or
/// the RIP will still make. Nothing when the target does not ask.
std::optional<Reading> reading_of_file(Target const&);
/// What the target takes for granted of a page on which letters were seen and not understood, or on which nothing looks like letters.
UnknownReads taken_for_granted(Target const&, bool letters_seen);
/// The other way round; unknown and mixed stay.
Reading reversed(Reading);

}  // namespace layright
