// One page, and a list of findings, of the HTML report.
#pragma once
#include <string>
#include <vector>

#include "report/report.h"

namespace layright {

/// `file`: its number in the run, for ids.
std::string html_page(PageSummary const& page, int file, ReportStyle const& style);

/// A numbered list of those that are told, or nothing where there are none.
std::string html_findings(std::vector<Finding> const& findings, ReportStyle const& style);

}  // namespace layright
