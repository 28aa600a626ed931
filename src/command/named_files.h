// The files that a person named, and those in the folders that they named.
#pragma once
#include <filesystem>
#include <string>
#include <vector>

namespace layright {

struct NamedFiles {
  std::vector<std::filesystem::path> files;
  std::vector<std::string> remarks;  // a line for each folder in which something was passed over, or nothing found
};

/// A file is taken as it was named, whatever it is. A folder stands for the files under it that can be taken, known by their first bytes, and for
/// what has .pdf at the end of its name, sorted; none twice; what starts with a dot is left out, other files are passed over with a remark. A folder that holds none or
/// cannot be read stays in the list, so that it is reported as something that was not looked at and stops nothing else.
NamedFiles files_named(std::vector<std::string> const& words);

}  // namespace layright
