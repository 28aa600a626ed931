// What a program that was killed had not finished.
#pragma once
#include <chrono>
#include <filesystem>

#include "base/result.h"

namespace layright {

/// Removes the temporaries of outputs in `folder` that nobody has written to for `age` or longer. With 0 nobody else may be writing there: the
/// caller's lock must say so. Errors as remove_file.
Outcome remove_left_temporaries(std::filesystem::path const& folder, std::chrono::seconds age = {});

}  // namespace layright
