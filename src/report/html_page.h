// One page, and a list of findings, of the HTML report.
#pragma once
#include <string>

#include "report/report.h"

namespace layright {

/// `file`: its number in the run, for ids.
std::string html_page(Json const& page, int file, ReportStyle const& style);

/// An ordered list numbered from `first`, or nothing where there are none.
std::string html_findings(Json const& findings, int first, ReportStyle const& style);

}  // namespace layright
