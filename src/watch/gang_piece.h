// What the ledger keeps of an arrival that waits to share a sheet with others.
#pragma once
#include <string>
#include <vector>

#include "sheet/gang_order.h"
#include "watch/decision.h"
#include "watch/ledger.h"

namespace layright {

struct WaitingPiece {
  struct InkSize {
    double width = 0, height = 0;  // of a page's ink as it would be printed unturned, in points
    int page = 1;
  };
  std::vector<InkSize> boxes;
  int count = 1;        // of each page
  std::string press;    // for which it says that its colors are meant, as a digest; empty: it does not say
  Decision said;        // by a person, of how it is laid
  bool now = false;     // a person does not wait for more
  long long since = 0;  // milliseconds since 1970 UTC: when it came to wait
};

std::string gang_text(WaitingPiece const& piece);
/// Error (data) when it is not of that form.
Result<WaitingPiece> parse_waiting_piece(std::string const& text);

/// As an order has it; labeled with its job's number.
Result<OrderedPiece> ordered_piece(LedgerEntry const& entry);

/// "fox.pdf (job 7)"
std::string piece_words(LedgerEntry const& entry);

}  // namespace layright
