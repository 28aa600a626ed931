// The trial sheet: what it shows, and what a person reads off it.
#pragma once
#include <filesystem>
#include <optional>
#include <string>

#include "geometry/length.h"
#include "geometry/matrix.h"
#include "geometry/result.h"
#include "sheet/target.h"

namespace layright {

/// A PDF of one page of the sheet's size: an arrow to the feed edge, asymmetric letters, corner numbers, a frame at the live area,
/// rulers on all four edges in `unit`, fine rulers along and across. Vector and standard fonts only (ISO 32000-1, 9.6.2.2).
std::string trial_sheet(Target const& target, Unit unit);

/// The corners' numbers as the trial sheet prints them, seen as the file reads.
enum class Corner { top_left = 1, top_right = 2, bottom_right = 3, bottom_left = 4 };

/// What was read off a printed trial sheet. Lengths are on the printed sheet, held as the file reads (numbers 1 and 2 at the top).
struct Trial {  // empty where nobody read it
  std::string date;                      // YYYY-MM-DD
  std::optional<Reading> reads;          // right or wrong: wrong means that the press reversed it
  std::optional<Corner> leading;         // the number at the left end of the edge that came out first
  std::optional<Length> shift_x, shift_y;      // how far the print lies to the right of and above where it should
  std::optional<double> stretch_along, stretch_across;  // printed length divided by the length meant, along and across the feed
  std::optional<Margins> unprintable;    // what stayed blank at each edge
};

/// "reads=wrong,leading=1,shift-x=0.5mm,shift-y=-1mm,along=252.5mm/254mm,across=1.001,left=4mm,bottom=…,right=…,top=…": any of these,
/// in any order. A stretch is a plain number or what was measured over what the ruler says. Error (usage) names the part.
Result<Trial> parse_trial(std::string_view text, std::string const& date);

/// Trials are kept in layright.trials.toml beside the configuration, one table a press, because rewriting a person's own file would
/// lose its comments. A missing file is no trial. Errors: data when the file is not as it should be, with line and column.
Result<std::optional<Trial>> find_trial(std::filesystem::path const& configuration, std::string const& press);
/// Keeps the other presses' tables; parts that this trial does not tell stay as they were. Gives the file's new text.
Result<std::string> with_trial(std::filesystem::path const& configuration, std::string const& press, Trial const& trial);
std::filesystem::path trial_file(std::filesystem::path const& configuration);

/// What undoes the press's shift and stretch when it is applied to the laid page: stretch is about the sheet's middle, and what the trial
/// does not tell counts as none. Identity when there is nothing to undo.
Matrix<SheetSpace, SheetSpace> correction(Trial const& trial, Sheet const& sheet);

/// For people, one sentence a fact: "last tried on 2026-11-25; …".
std::string trial_words(Trial const& trial, Unit unit);

}  // namespace layright
