// What a program that was killed had not finished.
#pragma once
#include <filesystem>

#include "base/result.h"

namespace layright {

/// Removes the temporaries of outputs in `folder`. Nobody else may be writing there: the caller's lock must say so. Errors as remove_file.
Outcome remove_left_temporaries(std::filesystem::path const& folder);

}  // namespace layright
