// The report as one web page that needs nothing else: no network, no script to be read.
#pragma once
#include <cstdio>
#include <memory>

#include "report/report.h"

namespace layright {

/// Files are written to a temporary as they come, and after the run the page as a whole, its verdict and counts on top; memory does not
/// grow with their number. Pages that come with a picture show it with the places of their findings.
std::unique_ptr<Report> html_report(std::FILE* out, Target const& target, ReportStyle const& style);

/// The page's looks and its script, which only filters and enlarges.
extern char const* const kHtmlStyle;
extern char const* const kHtmlScript;

}  // namespace layright
