// The options that a person has given, as words of a command that asks the same.
#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace CLI {
class App;
}

namespace layright {

/// `left_out`: options by their names.
std::vector<std::string> given_words(CLI::App const& command, std::span<std::string_view const> left_out);

}  // namespace layright
