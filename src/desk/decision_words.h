// What a person can say of a held job, in the words of the shop: the buttons of its page, and how they are reported afterwards.
#pragma once
#include <string>

#include "report/page_json.h"
#include "watch/ledger.h"

namespace layright {

/// The questions that must be answered for it to go on, each with its choices: exactly those that `release` takes for this hold. `set` of a choice is
/// what goes into the body of the release; `needs` names what a person must write beside it. Null where nothing that can be said would do.
Json questions_json(LedgerEntry const& entry);

/// "released: it reads as it should; shrink to fit" of an event.
std::string event_words(LedgerEvent const& event);

}  // namespace layright
