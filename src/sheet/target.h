// A target: a sheet, a press, the reading that the printed sheet needs, who reverses, and the limits that checks go by.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "sheet/gang_options.h"
#include "sheet/heat_press.h"
#include "sheet/limits.h"
#include "sheet/placement_options.h"
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
  GangWait gang;       // whether they do in a watched folder
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
std::string_view word(Render);
Result<WantedReading> parse_wanted_reading(std::string_view);  // "mirrored" and "reversed" are taken for wrong, here and below
Result<Reading> parse_incoming(std::string_view);              // right or wrong
Result<ReverseAt> parse_reverse_at(std::string_view);
Result<UnknownReads> parse_unknown_reads(std::string_view);
Result<bool> parse_goods(std::string_view);  // "light", or "dark": true
Result<Feed> parse_feed(std::string_view);
Result<Render> parse_render(std::string_view);
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
