// Words of a command that a person can copy.
#pragma once
#include <string>
#include <string_view>

namespace layright {

/// The word as a shell of POSIX takes it for one (POSIX.1-2017, XCU 2.2.2): what is no plain word comes in single quotes.
std::string quoted_for_shell(std::string_view word);

}  // namespace layright
