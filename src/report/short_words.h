// Findings and what `lay` does in a few words of the trade, for the screens that people read first.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "report/page_summary.h"

namespace layright {

/// What it is, by how much, what to do: "Guide box will print. Delete it, or --accept ink.guide."
std::string short_words(Finding const& finding, Unit unit);

/// Of one of which nothing could be read.
inline constexpr std::string_view kUnreadableFile = "The file cannot be read. Ask for it again.";

/// "centered, turned 90, at 66.5%, mirrored": what is done to a page that has this placement.
std::string placed_words(Placement const& placement, Target const& target);

/// Of a piece that is to share a sheet: "mirrored, at 66.5%". Turn and place are the sheet's to say.
std::string piece_words(Placement const& placement);

/// What `lay` always does to what it lays; no finding of these is told by itself.
bool is_always_fixed(std::string const& check);

/// Another size fixes it.
bool is_about_size(std::string const& check);
/// --incoming settles it.
bool is_about_reading(std::string const& check);

/// How many sheets would take art that is too large for one, by its ink.size; 0: nobody knows, or none would.
int sheets_of(Finding const& finding);

/// The options that let a file with these findings be laid once a person has looked. Empty where there is nothing to say, or nothing would do.
std::vector<std::string> options_that_help(std::vector<Finding> const& holds);

}  // namespace layright
