// Where `lay` writes each of its inputs.
#pragma once
#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "base/result.h"

namespace layright {

struct LayOutputs {
  std::map<std::filesystem::path, std::filesystem::path> of;  // each input, as it was named, to the file that is written
  bool in_folder = false;                                     // they go to a folder of their own, which is made where it is missing
};

/// `words`: what the person named; `files`: the files that these stand for; `output`: -o, or empty; `suffix`: ".pdf" or ".ps".
/// Without -o a file goes beside its input as NAME-laid; in a folder the outputs keep the folders of their inputs, counted from the one folder
/// that was named, else from the one that all have in common. Of files that would get one name the PDF keeps it, the others get their own
/// ending into it: logo.pdf, logo-eps.pdf. Error (usage) when the words do not say where to, or the output's ending is that of another format.
Result<LayOutputs> lay_outputs(std::vector<std::string> const& words, std::vector<std::filesystem::path> const& files, std::string const& output,
                               std::string const& suffix);

}  // namespace layright
