// layright desk user add|remove|list: who may work at the desk.
#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "command/exit_status.h"

namespace layright {

/// `words`: what stands behind `layright desk`. `file`: where the users are kept. Passwords come from the terminal, else a line of standard input.
ExitStatus run_desk_users(std::vector<std::string> const& words, std::filesystem::path const& file);

}  // namespace layright
