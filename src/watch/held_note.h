// What lies beside a held file: why it is held and what lets it go on, for people (.txt) and for programs (.json).
#pragma once
#include <string>

#include "report/page_json.h"
#include "watch/ledger.h"

namespace layright {

/// What a held file's notes are called: its name and one of these.
inline constexpr char const* kNoteEndings[] = {".txt", ".json"};

/// `more_words`: what the commands need to be understood from anywhere, such as " --config /srv/desk/layright.toml".
std::string held_text(LedgerEntry const& entry, std::string const& more_words);
/// The page, and of a ZIP the file in it, that a finding is about: "page 2 (crest.png)". Empty where it is about the whole.
std::string place_of(Json const& finding);
/// The short sentence of a finding in the ledger; of one that an earlier release wrote, its message.
std::string words_of_finding(Json const& finding);
Json held_json(LedgerEntry const& entry, std::string const& more_words);

}  // namespace layright
