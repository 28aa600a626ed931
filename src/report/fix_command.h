// The commands that fix a file or let it go on, for a person to copy.
#pragma once
#include <string>

#include "report/report.h"

namespace layright {

/// "layright lay fox.pdf -o fox-laid.pdf --target shirt", quoted for a shell.
std::string fix_command(std::string const& path, Target const& target, ReportStyle const& style);

/// The same with another output.
std::string laying_command(std::string const& path, std::string const& output, Target const& target, ReportStyle const& style);

/// The same `lay` once more, with what must be accepted for it to write. Requires tail.accept.
std::string accepting_command(std::string const& path, FileTail const& tail, Target const& target, ReportStyle const& style);

}  // namespace layright
