// The screen that people read first.
#pragma once
#include <cstdio>
#include <memory>

#include "report/report.h"

namespace layright {

/// For people, one screen: a line a file, holds first, then fixes, what is ready counted; of a folder also how many of each verdict and finding, at
/// most 60 lines. Wrapped to the terminal.
std::unique_ptr<Report> short_report(std::FILE* out, Target const& target, ReportStyle const& style);

}  // namespace layright
