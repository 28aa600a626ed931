// The one plain sentence about which way a page reads: what the file does now, who will still reverse it, what comes out, what to do.
#pragma once
#include <string>

#include "check/check.h"
#include "sheet/target.h"

namespace layright {

/// `reading`: as decide_reading() gives it. A whole sentence without a full stop, for every reading, every party that reverses and every wanted reading:
/// "the page reads right (by its live text) and nobody reverses it later, so the printed sheet would read right, but it must read wrong:
/// `lay` reverses it; leave reversal off in the printer and in the RIP".
std::string reading_sentence(PageReading const& reading, Target const& target);

/// One finding `id` where nobody knows how the page reads though the target asks, and it is (or is not) for want of anything like letters.
std::vector<Finding> reading_not_known(PageView const& view, std::string_view id, bool without_letters);

}  // namespace layright
