// One page, and a list of findings, of the HTML report.
#pragma once
#include <string>
#include <vector>

#include "report/report.h"

namespace layright {

/// `file`: its number in the run, for ids.
std::string html_page(PageSummary const& page, int file, ReportStyle const& style);

/// What waits for a person before what does not; of one level in the order told.
std::vector<Finding> holds_first(std::vector<Finding> findings);

/// A numbered list of those that are reported, or nothing where there are none.
std::string html_findings(std::vector<Finding> const& findings, ReportStyle const& style);

}  // namespace layright
