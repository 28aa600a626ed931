// A page, a finding and a target in the JSON that others rely on (DESIGN section 5; report/layright.schema.json).
#pragma once
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "report/page_summary.h"

namespace layright {

using Json = nlohmann::ordered_json;

std::string page_text(PageSummary const& page);
/// One that is not reported is marked so.
Json finding_json(Finding const& finding);
/// Those that are reported.
std::string reported_text(std::vector<Finding> const& findings);
/// Of a laid file's white plates: a JSON array.
std::string plates_text(std::vector<PlateSummary> const& plates);
/// How many of each check are not reported; empty where there are none.
std::string suppressed_text(std::vector<Finding> const& findings);
Json target_json(Target const& target);

/// What became of letters that are outlines or pixels; empty where nobody looked.
std::string_view word(LettersSeen);

/// Points rounded to a thousandth: nobody prints finer, and single-precision noise does not show.
Json points_json(double points);
/// Text that need not be UTF-8: what is not becomes U+FFFD, so that the whole stays valid JSON.
std::string json_text(Json const& value);

}  // namespace layright
