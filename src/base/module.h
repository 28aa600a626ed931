// Parts of the program that are loaded only when asked for, because loading their libraries costs more than a one-page check.
#pragma once
#include <string>

#include "base/result.h"

namespace layright {

/// The address of `symbol` in lib/layright/NAME.so beside the program, or in the folder above it (build folder or installed). The module stays
/// loaded to the end of the process. Errors (internal) say where it was looked for and what is missing.
Result<void*> load_from_module(std::string const& name, char const* symbol);

}  // namespace layright
