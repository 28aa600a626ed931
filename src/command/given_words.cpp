#include "command/given_words.h"

#include <CLI/CLI.hpp>
#include <algorithm>

namespace layright {

std::vector<std::string> given_words(CLI::App const& command, std::span<std::string_view const> left_out) {
  std::vector<std::string> words;
  for (auto const* option : command.get_options()) {
    auto const name = option->get_name();
    if (option->count() == 0 || std::ranges::find(left_out, name) != left_out.end()) continue;
    words.push_back(name);
    if (option->get_items_expected_max() == 0) continue;  // a flag
    std::string value;
    for (auto const& part : option->results()) value += (value.empty() ? "" : ",") + part;
    words.push_back(value);
  }
  return words;
}

}  // namespace layright
