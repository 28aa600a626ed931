// Puts the white plates on a laid file, in a child: draws each page, writes the file anew with them, and reads it back.
#pragma once
#include <filesystem>
#include <vector>

#include "isolate/channel.h"
#include "job/inspect.h"
#include "job/messages.h"

namespace layright {

/// `laid`: the file without plates, proved to show its source. `output`: an empty file, and `apart` another where plates get a file of their own. `pages`: what the proof knew of its pages.
struct PlateWork {
  int laid = -1, output = -1, apart = -1;
  std::vector<Verification> const* pages = nullptr;
};

/// Tells Plated or NotPlated, and Alive in between.
void plate_laid(PlateWork const& work, InspectOptions const& options, Sender const& sender);

/// Where the plates of what is laid into `laid` go, where they get a file of their own.
std::filesystem::path plate_file_of(std::filesystem::path const& laid);
inline constexpr char kPlateEnding[] = "-white.pdf";  // of its name, after the laid file's stem

/// Of processor time, for one page: drawing as finely as the press takes longer than reading.
double seconds_for_plate(Target const& target);

}  // namespace layright
