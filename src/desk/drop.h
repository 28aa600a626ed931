// A file on its way from a browser into a watched folder, and the note of who sent it.
#pragma once
#include <filesystem>
#include <optional>
#include <string>

#include "desk/exchange.h"
#include "report/page_json.h"

namespace layright {

/// Who handed a file in, and how it went into the watched folder.
struct HandedIn {
  std::string name, digest;  // in the watched folder; SHA-256, hexadecimal
  std::string who, order;    // as they were told; order may be empty
  std::string door;          // "customer" or "desk"
  long long at = 0, bytes = 0;
};

/// Text as a part of a file's name: one line, no path, no dot or dash in front, at most `most` bytes. May be empty.
std::string name_part(std::string_view text, std::size_t most);

/// Streams a body into `folder`, under `note.name` or, where that is taken, with -2 and so on. It appears whole or not at all, and `notes` has its line
/// before. Fills in name, digest and bytes. Errors: usage (empty, or larger than `most`),
/// data (it did not come whole), io and cannot_create.
Outcome drop_into(std::filesystem::path const& folder, std::filesystem::path const& notes, BodyReader const& body, long long most, HandedIn& note);

/// "intake.db.handed-in", a line of JSON each; see DeskShop::kept_beside().
std::filesystem::path notes_beside(std::filesystem::path const& kept);
/// The last note of that name and those bytes.
std::optional<HandedIn> note_of(std::filesystem::path const& notes, std::string const& name, std::string const& digest);
/// Puts the order under which each of these rows (name, sha256) was handed in into it, as "order"; empty where nobody said one. Reads the notes once.
void add_orders(std::filesystem::path const& notes, Json& rows);
Json note_json(std::optional<HandedIn> const& note);

}  // namespace layright
