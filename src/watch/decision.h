// What a person decided about an arrival: kept in the ledger until it is done.
#pragma once
#include <string>
#include <vector>

#include "sheet/target.h"
#include "watch/ledger.h"

namespace layright {

struct Decision {
  enum class Kind {
    release,
    again,
    discard,
    hold,  // no person's: a piece that could not go on a sheet with others goes to the held
  } kind = Kind::release;
  std::string incoming, scale, width, target;  // as on the command line; empty: as it was
  std::vector<std::string> accept;             // checks whose hold is none
  std::string why;
  int sheet = 0;   // of again: only this one of the sheets; 0: all
  int copies = 0;  // of again: so many; 0: as before
};

std::string decision_text(Decision const& decision);
/// Error (data) when it is not of that form.
Result<Decision> parse_decision(std::string const& text);

/// What a person must say of a held arrival for it to go on.
struct HoldQuestions {
  bool can_be_laid = true;          // false: nothing that a person can say would; the file is to be asked for again
  bool reading = false;             // how the art reads
  bool too_large = false;           // whether it is to shrink, or how wide it is to be
  bool no_size = false;             // how wide it is to be: nothing in the file says it
  std::string width;                // for no_size: one that suits the picture
  std::vector<std::string> accept;  // whether these checks, once somebody has looked, hold it for nothing
};
HoldQuestions questions_of(LedgerEntry const& entry);

/// The words after `layright` that would let a held arrival go on: release, its number and what must be said with it. Empty where nothing that a
/// person can say would: the file cannot be read.
std::vector<std::string> release_words(LedgerEntry const& entry);
/// What a person has not said is taken from what the entry is held for: those holds are accepted. But how the art reads and how large it is must be
/// said, and who says a size has not said that a guide, or anything else that no size fixes, is right: error (usage), with the words to say.
Outcome complete_release(Decision& decision, LedgerEntry const& entry);
/// The event that sets aside what was released before it.
inline constexpr char const* kDecideAnew = "decide anew";
/// What persons have said of these bytes so far, as one release: the later word counts. `story`: the job's events, oldest first. For another target
/// only how the art reads is carried on; how large it is and what is accepted were looked at on the earlier one.
Decision said_before(std::vector<LedgerEvent> const& story);
/// `later` with what was said `before` and is not said otherwise now. `target`: the one that it is for so far.
Decision with_said_before(Decision later, Decision const& before, std::string const& target);
/// "anna 2026-03-01: ink.guide, reads right (looked)": who released it and what, a line each; later ones last. What was set aside is left out.
std::vector<std::string> release_words_of(std::vector<LedgerEvent> const& events);
/// The checks whose hold keeps it.
std::vector<std::string> holding_checks(LedgerEntry const& entry);

}  // namespace layright
