// What is told with the command line's options, for whoever has buttons instead.
#pragma once
#include <string>

namespace layright {

/// "Guide box will print. Delete it, or --accept ink.guide." becomes "Guide box will print. Delete it.": without options and the names of
/// commands, and what only makes sense with them.
std::string plain_words(std::string text);

}  // namespace layright
