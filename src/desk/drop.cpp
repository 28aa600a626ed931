#include "desk/drop.h"

#include <fcntl.h>
#include <sys/stat.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <sstream>

#include "base/sha256.h"
#include "base/unique_fd.h"
#include "base/utf8.h"
#include "report/report.h"
#include "watch/wall_clock.h"
#include "write/output_file.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

constexpr long long kNotesLookedAt = 8 << 20;  // bytes from the end: years of a shop's days
constexpr long long kRoomLeft = 512LL << 20;   // that the disk keeps for the shop's own work
constexpr int kMostOfOneName = 1000;

/// The first of NAME, NAME-2 and so on that `take` can have.
template <class Take>
Outcome first_free(std::string& name, Take const& take) {
  auto const stem = fs::path(name).stem().native(), ending = fs::path(name).extension().native();
  for (int i = 1; i < kMostOfOneName; ++i) {
    auto const tried = i == 1 ? name : stem + "-" + std::to_string(i) + ending;
    auto const taken = take(tried);
    if (taken) name = tried;
    if (!taken || *taken) return taken ? done() : Outcome(taken.error());
  }
  return Error{ErrorKind::cannot_create, "too many files of that name wait already"};
}

bool is_name_in(fs::path const& folder, std::string const& name) {
  std::error_code none;
  return fs::exists(fs::symlink_status(folder / name, none));
}

Outcome add_note(fs::path const& notes, HandedIn const& note) {
  UniqueFd const out(::open(notes.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC | O_NOFOLLOW, 0600));
  auto const line = note_json(note).dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
  // One call: lines of two at once do not mix.
  if (out && ::write(out.get(), line.data(), line.size()) == std::ssize(line)) return done();
  return Error{ErrorKind::io, "the note of who sent it cannot be written"};
}

std::ifstream latest_notes(fs::path const& notes) {
  std::ifstream in(notes, std::ios::binary | std::ios::ate);
  if (in) in.seekg(std::max(0LL, static_cast<long long>(in.tellg()) - kNotesLookedAt));
  return in;
}

}  // namespace

std::string name_part(std::string_view text, std::size_t most) {
  constexpr std::string_view kNever = "/\\:*?\"<>|";
  auto const slash = text.find_last_of("/\\");
  if (slash != std::string_view::npos) text.remove_prefix(slash + 1);
  std::string part;
  for (char const c : valid_utf8(text))
    part += static_cast<unsigned char>(c) < 0x20 || c == 0x7f || kNever.find(c) != std::string_view::npos ? '-' : c;
  part.erase(0, std::min(part.find_first_not_of(".- "), part.size()));
  part = std::string(utf8_prefix(part, most));
  while (part.ends_with(' ') || part.ends_with('.')) part.pop_back();
  return part;
}

Outcome drop_into(fs::path const& folder, fs::path const& notes, BodyReader const& body, long long most, HandedIn& note) {
  std::error_code unknown;
  if (auto const room = fs::space(folder, unknown); !unknown && static_cast<long long>(room.available) < kRoomLeft + most)
    return Error{ErrorKind::io, "There is no room for it now. Try again later."};
  std::optional<OutputFile> out;
  auto name = note.name;
  auto const begun = first_free(name, [&](std::string const& tried) -> Result<bool> {
    if (is_name_in(folder, tried)) return false;
    auto created = OutputFile::create(folder / tried, false, {});
    if (!created) return created.error();
    out.emplace(std::move(*created));
    return true;
  });
  if (!begun) return begun;
  Sha256 sum;
  Outcome written = done();
  bool const whole = body && body([&](std::string_view piece) {
                       note.bytes += std::ssize(piece);
                       if (note.bytes > most) return false;
                       sum.add(piece);
                       written = out->write(std::as_bytes(std::span(piece)));
                       return written.has_value();
                     });
  if (note.bytes > most) return usage_error("It is larger than " + std::to_string(most >> 20) + " MB.");
  if (!written) return written;
  if (!whole) return Error{ErrorKind::data, "The file did not come whole. Send it again."};
  if (note.bytes == 0) return usage_error("The file is empty.");
  // While it came another of that name may have come whole.
  if (auto const named = first_free(note.name, [&](std::string const& tried) { return Result<bool>(out->rename(tried).has_value()); }); !named)
    return named;
  note.digest = hexadecimal(sum.finish());
  note.at = now_ms();
  if (auto const told = add_note(notes, note); !told) return told;
  return out->commit();
}

fs::path notes_beside(fs::path const& kept) { return kept.native() + ".handed-in"; }

std::optional<HandedIn> note_of(fs::path const& notes, std::string const& name, std::string const& digest) {
  auto in = latest_notes(notes);
  std::optional<HandedIn> found;
  for (std::string line; in && std::getline(in, line);) {
    if (line.find(digest) == std::string::npos) continue;
    auto const json = Json::parse(line, nullptr, false);
    if (!json.is_object() || json.value("sha256", "") != digest || json.value("name", "") != name) continue;
    found = HandedIn{
        name, digest, json.value("who", ""), json.value("order", ""), json.value("door", ""), json.value("at_ms", 0LL), json.value("bytes", 0LL)};
  }
  return found;
}

void add_orders(fs::path const& notes, Json& rows) {
  std::map<std::string, std::vector<Json*>, std::less<>> by_digest;
  for (auto& row : rows) {
    row["order"] = "";
    by_digest[row.value("sha256", "")].push_back(&row);
  }
  if (by_digest.empty()) return;
  auto in = latest_notes(notes);
  constexpr std::string_view kKey = "\"sha256\":\"";
  for (std::string line; in && std::getline(in, line);) {
    auto const at = line.find(kKey);
    auto const found = at == std::string::npos ? by_digest.end() : by_digest.find(std::string_view(line).substr(at + kKey.size(), 64));
    if (found == by_digest.end()) continue;
    auto const json = Json::parse(line, nullptr, false);
    if (!json.is_object()) continue;
    for (auto* const row : found->second)
      if ((*row)["name"] == shown_name(json.value("name", ""))) (*row)["order"] = json.value("order", "");
  }
}

Json note_json(std::optional<HandedIn> const& note) {
  if (!note) return {};
  return {{"name", note->name}, {"sha256", note->digest},   {"who", note->who},  {"order", note->order},
          {"door", note->door}, {"at", utc_text(note->at)}, {"at_ms", note->at}, {"bytes", note->bytes}};
}

}  // namespace layright
