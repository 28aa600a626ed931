// What `lay` does with one page, and what `check` foretells of it: where it comes to lie on the sheet and what is recorded of it, or why it is
// refused. Values in, values out: no library, no file, no process.
#pragma once
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "check/check.h"
#include "document/page.h"
#include "marks/marks.h"
#include "place/place.h"
#include "sheet/target.h"

namespace layright {

struct PlanOptions {
  Unit unit = Unit::inch;                     // of what a refusal tells
  std::set<std::string, std::less<>> accept;  // checks whose holds a person accepts
};

struct PagePlan {
  std::optional<PlaceResult> placed;   // from what is seen now; there also where something else refuses the page
  std::optional<Placement> placement;  // the same, where only a hold can still keep `lay` from it
  std::optional<Placement> as_asked;   // where there is no placement: where it would lie at the size that is asked for, to show it
  std::optional<double> of_original;   // of a page that was laid before: the scale counted from its source
  std::optional<LayRecord> record;     // what `lay` does and records; nothing: it refuses
  std::string refusal;                 // why
};

/// What is told of a hold that a person had accepted when the page was laid.
inline constexpr char kAcceptedBefore[] = " (accepted when it was laid)";

/// A person has decided it: now, or when the page was laid.
bool is_accepted(std::string_view check, Page const& page, PlanOptions const& options);

/// `marks`: null where nobody looked at them. Then all that is seen is placed in place of its ink, which lies inside it, and the record says so.
/// `reading`: as the page reads now.
PagePlan plan_page(Page const& page, Marks const* marks, PageReading const& reading, Target const& target, PlanOptions const& options);

/// Marks the holds that a person has accepted and records them. A page with any other hold keeps its placement, so that a person can look at
/// it, but is not laid.
void settle_holds(PagePlan& plan, std::vector<Finding>& findings, Page const& page, PlanOptions const& options);

}  // namespace layright
