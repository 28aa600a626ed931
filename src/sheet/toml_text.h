// The text of a TOML file, taken with care: its size, its nesting, the mistakes that its library tells.
#pragma once
#include <filesystem>
#include <string>
#include <string_view>

#include "base/result.h"
#include "sheet/toml_library.h"

namespace layright {

/// `what` it is, for messages: "configuration", "order". Errors: no_input.
Result<std::string> load_toml_text(std::filesystem::path const& path, std::string const& what);
/// Error (usage) with file, line and column.
Result<toml::table> parse_toml_text(std::string_view text, std::filesystem::path const& path, std::string const& what);

/// Absolute and without detours, where the system knows.
std::filesystem::path absolute_path(std::filesystem::path const& path);

}  // namespace layright
