// What the manual says of a command beyond its options: what it is for, and examples.
#pragma once
#include <string_view>
#include <utility>
#include <vector>

namespace layright {

struct CommandWords {
  std::string_view name;
  std::string_view about;                                               // roff
  std::vector<std::pair<std::string_view, std::string_view>> examples;  // what for, and the line to type
  bool watches = false;                                                 // it is about the watch folder
};

/// Null for a command that needs no more words.
CommandWords const* words_of_command(std::string_view name);

}  // namespace layright
