// Steps on the way from a request to its answer.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "desk/desk.h"
#include "watch/decide.h"

namespace layright {

inline constexpr long long kMostJob = 999'999'999'999'999;
inline constexpr int kMostPage = 100'000, kMostSpoiled = 10'000;

/// Digits only, at most `most`.
std::optional<long long> whole_number(std::string_view text, long long most);

/// A file of src/desk/pages.
WebAnswer page_named(std::string_view name);
WebAnswer json_answer(Json const& json);
/// With the status that its kind asks for.
WebAnswer error_of(Error const& error);
/// A file to take away, under its own name. 404 where it is no file.
WebAnswer file_answer(std::string const& path, std::string const& type);
/// The name that a file is taken away under: RFC 6266 with RFC 8187.
std::string disposition(std::string const& name);

/// The body of a decision: a JSON object of no more than a few kB whose texts are short. Errors: usage, data.
Result<Json> said_in(WebRequest const& request);
/// Whether nobody has done anything about the job since `history` lines of its history were seen; else who was faster (try_again).
Outcome is_as_seen(Story const& story, long long history);
/// The words by which `check` goes by what a person would decide, from a question's choices in an address, and by what was said before. Errors: usage.
Result<std::vector<std::string>> decided_words(WebRequest const& request, LedgerEntry const& entry, Story const& story);
/// Releases a held job as a body says it; only holds that it has can be accepted.
Result<LedgerEvent> release_as_said(LedgerEntry& entry, Story const& story, Json const& said, Configuration const& configuration);

/// What a picture shows, as a name for it.
std::string proof_key(std::string const& digest, CheckOrder const& order);
/// A page's findings, numbered as they are on its picture, and the picture's address.
Json look_json(LookedAtPage const& page, std::string const& name, int number, std::string const& key);

}  // namespace layright
