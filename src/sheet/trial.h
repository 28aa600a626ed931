// What a person reads off a printed trial sheet, and where it is kept.
#pragma once
#include <filesystem>
#include <map>
#include <optional>
#include <string>

#include "base/result.h"
#include "geometry/length.h"
#include "sheet/reading.h"
#include "sheet/sheet.h"

namespace layright {

/// The corners' numbers as the trial sheet prints them, seen as the file reads.
enum class Corner { top_left = 1, top_right = 2, bottom_right = 3, bottom_left = 4 };

/// The edge that two of them lie on, by the first of them clockwise in the file: top_left is the edge with 1 and 2.
std::string edge_words(Corner first);

/// What was read off a printed trial sheet. Lengths are on the printed sheet as it lies before the reader, numbers 1 and 2 at the top;
/// where the press reversed it, number 2 is then at the left.
struct Trial {
  std::string date;                                     // YYYY-MM-DD
  std::optional<Reading> reads;                         // right or wrong: wrong means that the press reversed it
  std::optional<Corner> leading;                        // the edge that came out first: which one of the file's, whoever reverses
  std::optional<Length> shift_x, shift_y;               // how far the print lies to the right of and above where it should
  std::optional<Length> lean;                           // how much further right the print lies at the bottom end than at the top end
  std::optional<double> stretch_along, stretch_across;  // printed length divided by the length meant, along and across the feed
  std::optional<Length> white_across, white_along;      // how far white lies from where color does, whichever way
  std::optional<Length> left, bottom, right, top;       // how wide a strip of the page at each edge was not printed

  /// About twice what white and color lie apart (common practice, no published source); nothing where nobody looked.
  std::optional<Length> pull_in() const;
  /// The strips at the four edges, nothing where nobody told.
  Margins unprintable() const;
};
using Trials = std::map<std::string, Trial>;  // by the press's name

/// One step of the register star, from one line to the next.
inline constexpr Length kStarStep = Length::millimetres(0.05);

/// What the sheet has blanks for: "reads=wrong,leading=12,blank12=4mm,blank23=…,A=25mm,B=…,along=252.5mm/254mm,across=…", or what follows from
/// it: shift-x=0.5mm,shift-y=-1mm,lean=1mm,left=4mm,bottom=…,right=…,top=…; in any order. white-across and white-along are
/// lengths, or steps of the register star. The gaps A to H, clockwise from corner 1, are from
/// the paper's edge to the frame; each of them is wanted. A stretch is a plain number or what was measured over what it should be. `leading` may
/// also be the one number at the left end of that edge held away from the reader. Error (usage) names the part.
Result<Trial> parse_trial(std::string_view text, std::string const& date);

/// Trials are kept in layright.trials.toml beside the configuration, one table a press, because rewriting a person's own file would
/// lose its comments. A missing file is no trial. Errors: data when the file is not as it should be, with line and column.
std::filesystem::path trial_file(std::filesystem::path const& configuration);
Result<Trials> read_trials(std::filesystem::path const& configuration);
/// Keeps the other presses' tables; parts that this trial does not tell stay as they were. Gives the file's new text.
Result<std::string> with_trial(std::filesystem::path const& configuration, std::string const& press, Trial const& trial);

/// For people, one sentence a fact: "last tried on 2026-11-25; …".
std::string trial_words(Trial const& trial, Unit unit);

}  // namespace layright
