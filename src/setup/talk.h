// Talk with a press, in a child of its own: whatever the press answers, how slowly and how much, this process lives and can tell.
#pragma once
#include <cstddef>
#include <functional>
#include <string>

namespace layright {

struct TalkLimits {
  double seconds = 30;                                // by the clock, until the next report
  std::size_t memory_bytes = std::size_t{192} << 20;  // beyond what is mapped already; the longest honest answers take a few MB
  std::size_t report_bytes = std::size_t{32} << 20;   // of all that waits to be read
};

enum class TalkEnd {
  finished,     // the child's work is done
  stopped,      // the listener had heard enough
  out_of_time,  // nothing was reported in time
  broken,       // the child died: its answer nests too deep for the library, takes too much memory, or is hostile otherwise
  not_started,
};

/// Tells something to the parent. A parent that is gone ends the child.
using ReportToParent = std::function<void(std::string const&)>;
/// Takes a report; false ends the talk.
using HearChild = std::function<bool(std::string const&)>;

/// Runs `work` in a child and gives each of its reports to `hear`. What the child has in its hands goes with it; its core is not dumped.
TalkEnd talk(std::function<void(ReportToParent const&)> const& work, TalkLimits const& limits, HearChild const& hear);

}  // namespace layright
