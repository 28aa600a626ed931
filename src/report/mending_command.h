// The command that mends a file, for a person to copy.
#pragma once
#include <string>

#include "report/report.h"

namespace layright {

/// "layright lay fox.pdf -o fox-laid.pdf --target shirt", quoted for a shell.
std::string mending_command(std::string const& path, Target const& target, ReportStyle const& style);

}  // namespace layright
