// Which layright this is. In a source of its own, so that a release compiles one file anew.
#pragma once

namespace layright {

/// As CMakeLists.txt says it: "0.2.0".
char const* program_version();

}  // namespace layright
