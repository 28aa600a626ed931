// The one plain sentence about which way a page reads: what the file does now, who will still reverse it, what comes out, what to do.
#pragma once
#include <string>

#include "check/check.h"
#include "sheet/target.h"

namespace layright {

/// How the page reads, as it counts for the target: where nothing tells and the target takes something for granted, that ("assumed").
PageReading taken_reading(PageReading const& told, Target const& target);

/// A whole sentence without a full stop, for every reading, every party that reverses and every wanted reading:
/// "the page reads right (by its live text) and nobody reverses it later, so the printed sheet would read right, but it must read wrong:
/// `lay` reverses it; leave reversal off in the printer and in the RIP".
std::string reading_sentence(PageReading const& told, Target const& target);

}  // namespace layright
