// JSON that can be shown: characters that turn the order of the text around them, or steer a terminal, are written as JSON escapes, which mean the same.
#pragma once
#include <string>

namespace layright {

std::string with_turns_escaped(std::string json);

}  // namespace layright
