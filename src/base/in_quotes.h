// Words of the user inside a message.
#pragma once
#include <string>
#include <string_view>

namespace layright {

/// `text` in double quotes, fit for one line: control characters become '?', and what is longer than 60 bytes is cut (never
/// inside a UTF-8 character) and ends in "…".
std::string in_quotes(std::string_view text);

}  // namespace layright
