// Names for files that are put somewhere: never one that is taken, for any reader of the folder.
#pragma once
#include <filesystem>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "watch/ledger.h"

namespace layright {

/// Names given out whose files are not there yet and are not in the ledger yet; in their folded form, with folder.
using Promised = std::set<std::string>;

/// What the ledger knows of names that were asked for together, by their folded form, with folder.
using NamesAsked = std::map<std::string, std::vector<KnownName>>;
/// Asks for several at once.
Result<NamesAsked> ask_for_names(Ledger const& ledger, std::vector<std::filesystem::path> const& paths);

/// A stem S (STEM, STEM-2, STEM-3 …, shortened where a name would be longer than 255 bytes) such that S + each of `endings` is free in
/// `folder`: no such file, nothing that differs in capitals or in the way of writing a letter only, nothing that is promised. The names are
/// promised from then on. What `asked` has is not asked for again.
Result<std::string> free_stem(Ledger const& ledger, std::filesystem::path const& folder, std::string const& stem,
                              std::vector<std::string> const& endings, Promised& promised, NamesAsked const& asked = {});

/// Whether a stem that was promised is still free: nobody has put a file there meanwhile.
Result<bool> is_free_stem(Ledger const& ledger, std::filesystem::path const& folder, std::string const& stem,
                          std::vector<std::string> const& endings);

}  // namespace layright
