// Names for files that are put somewhere: never one that is taken, for any reader of the folder.
#pragma once
#include <filesystem>
#include <set>
#include <string>
#include <vector>

#include "watch/ledger.h"

namespace layright {

/// Names given out whose files are not there yet and are not in the ledger yet; in their folded form, with folder.
using Promised = std::set<std::string>;

/// A stem S (STEM, STEM-2, STEM-3 …, shortened where a name would be longer than 255 bytes) such that S + each of `endings` is free in
/// `folder`: no such file, nothing that differs in capitals or in the way of writing a letter only, nothing that is promised. The names are
/// promised from then on.
Result<std::string> free_stem(Ledger const& ledger, std::filesystem::path const& folder, std::string const& stem,
                              std::vector<std::string> const& endings, Promised& promised);

/// Whether a stem that was promised is still free: nobody has put a file there meanwhile.
Result<bool> is_free_stem(Ledger const& ledger, std::filesystem::path const& folder, std::string const& stem,
                          std::vector<std::string> const& endings);

}  // namespace layright
