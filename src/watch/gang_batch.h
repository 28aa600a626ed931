// Which of the pieces that wait go on sheets now. Values in, values out.
#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "sheet/configuration.h"
#include "watch/gang_piece.h"

namespace layright {

/// The pieces of one target that wait, oldest first.
struct GangChoice {
  std::vector<std::size_t> due;       // go on sheets now, together; none: all wait on
  std::optional<long long> next_due;  // when time alone makes one due, in milliseconds since 1970 UTC
};

/// Due is who has waited for the target's `longest`, or of whom a person has said so; with it goes what its sheets have room for. Else what lies on
/// sheets that are filled as the target asks, once all are arranged as well as can be.
GangChoice choose_batch(std::vector<WaitingPiece> const& waiting, Target const& target, long long now);

/// How much of a sheet they take, with the gaps around them, in percent; above 100 where one does not hold them.
double gang_fill_pct(std::vector<WaitingPiece> const& waiting, Target const& target);

/// What waits for sheets of one target.
struct WaitingSheet {
  std::string intake, target;
  int jobs = 0;
  double fill_pct = 0, wanted_pct = 0;
  long long since = 0;  // of the one that has waited longest, in milliseconds since 1970 UTC
};
/// Of one intake. Targets that are not in the configuration any more are left out. Errors: the ledger's.
Result<std::vector<WaitingSheet>> waiting_sheets(Ledger const& ledger, Intake const& intake, Configuration const& configuration);

}  // namespace layright
