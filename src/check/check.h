// The list of checks. A check is a free function in a file of its own; it reads, never writes, never prints, never throws.
#pragma once
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "check/finding.h"
#include "convert/original_file.h"
#include "document/document.h"
#include "document/page.h"
#include "marks/marks.h"
#include "place/place.h"
#include "plate/page_plate.h"
#include "raster/page_inks.h"
#include "raster/page_weed.h"
#include "sheet/target.h"

namespace layright {

/// What became of the letters that are outlines or pixels: nobody looked; nothing looks like any; some were seen and not understood; read.
enum class LettersSeen { not_looked, none, not_understood, read };

/// A line that was looked at, with what it says as it is and reversed; a doubt is 0 to 1 a character.
struct ReadingLine {
  Rect<SeenSpace> where;
  std::vector<std::string> words_right, words_wrong;
  double doubt_right = 1, doubt_wrong = 1;
  double evidence = 0;  // for right where positive, for wrong where negative
};
inline constexpr std::size_t kMostReadingLines = 24;

/// How the page reads and how that is known ("record", "operator", "text", "letters", "assumed", "none").
struct PageReading {
  Reading reading = Reading::unknown;
  std::string from = "none";
  std::vector<Rect<SeenSpace>> where;  // for mixed: what reads the other way, and where live text and letters disagree both
  LettersSeen letters = LettersSeen::not_looked;
  Reading by_letters = Reading::unknown;
  std::vector<ReadingLine> lines;       // that were looked at, at most kMostReadingLines
  double letters_unread = 0;            // square points of what looks like letters and was not understood
  long text_right = 0, text_wrong = 0;  // letters of live text that are seen and tell
  Reading layer = Reading::unknown;     // what invisible text on a picture says, which decides nothing
  std::string conflict;                 // what contradicts it, in plain words, or empty
  std::vector<std::string> words;       // for letters: which words were read
};

/// All that a check of one page may look at.
struct PageView {
  Page const& page;
  Marks const* marks = nullptr;            // absent where nobody asked for what needs them
  PageReading const& reading;              // as decide_reading() gives it
  PlaceResult const* placement = nullptr;  // what `lay` would do; absent where it is not known
  Target const& target;
  Unit unit = Unit::inch;
  ArtStructure const* structure = nullptr;  // these two only where a check of the art asks
  FileArt const* file = nullptr;
  PageInks const* inks = nullptr;     // only where somebody asked for the rendering that it takes
  PageWeed const* weed = nullptr;     // the same
  PlateNotes const* plate = nullptr;  // only where the target has a white plate
};

/// All that a check of a whole file may look at. Pages come one by one, so nothing here grows with their number.
struct FileView {
  Document const& document;
  Target const& target;
  std::vector<SeenSize> const& sizes;      // the first few different sizes of its usable pages, within the target's size tolerance
  std::vector<std::string> const& losses;  // what reading its pages could not make good, in plain words
  Unit unit = Unit::inch;
  bool claims_tested = false, claims_hold = false;  // what the file claims was looked at on each page; and holds
};

/// All that a check of what a file was, before it became the PDF that is looked at, may look at.
struct SourceView {
  OriginalFile const& source;
  Target const& target;
  Unit unit = Unit::inch;
};

struct CheckInfo {
  std::string_view id{};                                    // group.word
  std::string_view levels{};                                // "fix", "fix; hold where …": by default
  std::string_view title{};                                 // what it finds, in a few words
  std::string_view measures{};                              // what, in what unit
  std::string_view limit{};                                 // against which limit, and where that is set
  std::string_view source{};                                // the standard and clause, or "common practice, no published source", or "our own"
  std::string_view does_not_cover{};                        // what somebody could think that it finds, and it does not; may be empty
  std::string_view explain{};                               // at length, for the shop
  bool needs_marks = false;                                 // the page must be interpreted
  std::vector<Finding> (*page)(PageView const&) = nullptr;  // either or both, or neither where the finding arises while reading
  std::vector<Finding> (*file)(FileView const&) = nullptr;
  bool needs_reading = false;  // somebody must tell how the page reads; marks are needed only while nothing cheaper tells
  bool needs_inks = false;     // the page must be drawn in its inks: runs only where it is named, by a person or a profile
  bool needs_art = false;      // notes of the marks' art and of the file's structure must be taken
  std::vector<Finding> (*source_check)(SourceView const&) = nullptr;  // of what is no PDF; of a PDF its name only
  bool needs_weed = false;   // the page must be drawn as the press will: runs only where it is named, like needs_inks
  bool needs_plate = false;  // of the white plate: where the target has one, check makes it, and lay tells of the one that it puts on the page
};

/// In the order in which they are reported.
std::span<CheckInfo const> all_checks();
CheckInfo const* find_check(std::string_view id);

/// Which checks to run.
struct Selection {
  std::set<std::string, std::less<>> only, skip, accept;  // ids; an empty `only` is all
  bool wants(std::string_view id) const;
  /// Any check that needs the page's marks; with `reading_known` (a record, a person's word) those that need them for the reading only
  /// do not count.
  bool wants_marks(bool reading_known = false) const;
  /// Any check that needs to know how the page reads.
  bool wants_reading() const;
  /// Any check of the art.
  bool wants_art() const;
  /// Any check that needs the page's inks, and is named: in `only`, or with a level of its own in the target's profile.
  bool wants_inks(Target const& target) const;
  /// The same of one that needs the page as the press will draw it.
  bool wants_weed(Target const& target) const;
  /// Any check of the white plate that the target has.
  bool wants_plate(Target const& target) const;
};

/// Sets the levels that the target's profile asks for. A check that is off keeps its findings, as suppressed ones.
void apply_levels(std::vector<Finding>& findings, CheckLevels const& levels);

/// What of the page breaks what its file claims (PDF/X, PDF/A), as far as a reader can test it; nothing where it was not looked at.
std::optional<std::vector<std::string>> broken_claims(PageView const& view);

/// Whether a profile may change the level of this check: not where the file or the page cannot be looked at at all.
bool level_is_free(std::string_view id);

/// Whether --accept lets a page go on that this check holds; else something must be fixed or said first.
bool can_be_accepted(std::string_view id);

/// Runs the wanted page checks and marks the accepted holds. Two things are told whatever the selection says, since without them
/// silence would look like "ready": that a page cannot be looked at at all, and (unless skipped by name) that its marks were not
/// wholly read when a wanted check needed them.
std::vector<Finding> check_page(PageView const& view, Selection const& selection);
/// Only the checks of the white plate: where it was made once all else of the page had been reported.
std::vector<Finding> check_plate(PageView const& view, Selection const& selection);
std::vector<Finding> check_file(FileView const& view, Selection const& selection);
/// Runs the wanted checks of what the file was. Holds are told whatever the selection says: without them silence would look like "ready".
std::vector<Finding> check_source(SourceView const& view, Selection const& selection);

}  // namespace layright
