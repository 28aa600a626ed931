// How arrivals are taken: several together, so that each answer of the disk and of the ledger is waited for once.
#include <sys/stat.h>

#include <algorithm>
#include <cerrno>

#include "watch/file_mover.h"
#include "watch/held_note.h"
#include "watch/ledger_rows.h"
#include "watch/wall_clock.h"

namespace layright {
namespace fs = std::filesystem;

namespace {

std::string same_words(LedgerEntry const& first) { return "the same bytes came as job " + std::to_string(first.id) + " (" + first.name + ")"; }

/// What the file of that name brings with it where it goes.
std::vector<std::string> endings_there(LedgerEntry const& entry) {
  auto const ending = fs::path(entry.name).extension().native();
  std::vector<std::string> endings{ending};
  if (entry.next == LedgerState::held)
    for (auto const* note : kNoteEndings) endings.push_back(ending + note);
  return endings;
}

/// For those that nothing was found for.
void look_again(Ledger const& ledger, std::string const& intake, std::vector<std::pair<std::string, std::string>> const& contents,
                std::vector<std::optional<LedgerEntry>>& same) {
  std::vector<std::pair<std::string, std::string>> unknown;
  std::vector<std::size_t> which;
  for (std::size_t i = 0; i < contents.size(); ++i)
    if (!same[i]) unknown.push_back(contents[i]), which.push_back(i);
  if (unknown.empty()) return;
  auto found = ledger.find_same(unknown, intake);
  if (!found) throw ChangeGivenUp{found.error()};
  for (std::size_t i = 0; i < which.size(); ++i) same[which[i]] = std::move((*found)[i]);
}

/// Folders that are named once each.
class FolderSet {
 public:
  void add(OpenFolder const& folder) {
    for (auto const* each : folders_)
      if (each->path() == folder.path()) return;
    folders_.push_back(&folder);
  }
  std::vector<OpenFolder const*> const& all() const { return folders_; }

 private:
  std::vector<OpenFolder const*> folders_;
};

}  // namespace

std::string FileMover::name_there(LedgerEntry const& entry) const { return ledger_key(folder_to(entry) / fs::path(entry.name).filename()); }

Outcome FileMover::choose_place(LedgerEntry& entry, Promised& promised, NamesAsked const& asked) const {
  auto const endings = endings_there(entry);
  auto const stem = free_stem(*ledger_, folder_to(entry), fs::path(entry.name).stem().native(), endings, promised, asked);
  if (!stem) return stem.error();
  entry.goes_to = (folder_to(entry) / (*stem + endings.front())).native();
  return done();
}

LedgerEntry FileMover::begun(MoveRequest const& taking, std::optional<LedgerEntry> const& same) const {
  LedgerEntry e;
  e.intake = intake_.name;
  e.name = taking.arrival->name();
  e.digest = taking.digest;
  e.mark = taking.arrival->mark();
  e.arrived = e.changed = now_ms();
  e.place = (intake_.in / taking.arrival->name()).native();
  e.target = taking.target;
  e.copies = taking.copies;
  auto const duplicates = settings_of(intake_).duplicates;
  if (same) e.same_as = same->same_as > 0 ? same->same_as : same->id;
  if (same && duplicates != Duplicates::again) {
    e.next = duplicates == Duplicates::hold ? LedgerState::held : LedgerState::skipped;
    e.verdict = "hold";
    e.reason = same_words(*same);
  }
  return e;
}

void FileMover::begin_all(std::vector<MoveRequest> const& takings, std::vector<MoveResult>& taken, LedgerChange& change) const {
  auto const must = [](auto result) {
    if (!result) throw ChangeGivenUp{result.error()};
    return std::move(*result);
  };
  std::vector<fs::path> places;
  std::vector<std::pair<std::string, std::string>> contents;
  for (auto const& taking : takings) {
    places.push_back(intake_.in / taking.arrival->name());
    contents.emplace_back(taking.digest, taking.target);
  }
  auto same = must(ledger_->find_same(contents, intake_.name));
  std::vector<std::string> alone;
  for (std::size_t i = 0; i < takings.size(); ++i) {
    alone.push_back(name_there(begun(takings[i], same[i])));
    if (!same[i]) alone.push_back(intake_.name + "/" + contents[i].first);
  }
  change.choose_alone(alone);
  // What another desk has just written down of the same bytes is there now; what was known before stays so.
  if (ledger_->is_shared()) look_again(*ledger_, intake_.name, contents, same);
  auto const moves = must(ledger_->moves_from(places));
  std::vector<fs::path> names;
  for (std::size_t i = 0; i < takings.size(); ++i) {
    if (moves[i]) {
      taken.emplace_back().overtaken = true;
      continue;
    }
    auto e = begun(takings[i], same[i]);
    // Two files of the same bytes that come at once: the second waits until the ledger knows the first.
    auto const is_same = [&](MoveResult const& t) { return t.entry.digest == e.digest && t.entry.target == e.target; };
    if (e.same_as == 0 && std::any_of(taken.begin(), taken.end(), is_same)) break;
    for (auto const& ending : endings_there(e)) names.push_back(folder_to(e) / (fs::path(e.name).stem().native() + ending));
    taken.push_back({std::move(e), {}});
  }
  auto const asked = must(ask_for_names(*ledger_, names));
  Promised promised;
  std::vector<LedgerEntry*> entries;
  for (auto& t : taken) {
    if (t.overtaken) continue;
    must(choose_place(t.entry, promised, asked));
    entries.push_back(&t.entry);
  }
  change.add_all(entries);
  std::vector<LedgerEvent> events;
  for (auto const* e : entries) events.push_back({e->id, e->arrived, "watch", "arrived", {}});
  change.report_all(events);
}

bool FileMover::nothing_moved(LedgerEntry const& entry) const {
  struct stat found {};
  return ::lstat(entry.goes_to.c_str(), &found) != 0 && errno == ENOENT;
}

/// The receiving folders first: what came is there before what went is gone.
Outcome FileMover::sync_moved(std::vector<MoveRequest> const& takings, std::vector<MoveResult> const& taken) const {
  std::vector<OpenFolder> opened;
  for (auto const& folder : {intake_.originals, intake_.held}) {
    auto const came = [&](MoveResult const& t) { return !t.overtaken && !t.trouble && fs::path(t.entry.place).parent_path() == folder; };
    if (std::none_of(taken.begin(), taken.end(), came)) continue;
    auto folder_there = OpenFolder::open(folder);
    if (!folder_there) return folder_there.error();
    opened.push_back(std::move(*folder_there));
  }
  FolderSet to, from;
  for (auto const& folder : opened) to.add(folder);
  for (std::size_t i = 0; i < taken.size(); ++i)
    if (!taken[i].overtaken && !taken[i].trouble) from.add(takings[i].arrival->folder());
  if (auto const synced = sync_folders(to.all()); !synced) return synced;
  return sync_folders(from.all());
}

Result<std::vector<MoveResult>> FileMover::take(std::vector<MoveRequest> const& takings) {
  // Its bytes are on the disk before the ledger says that they are here.
  std::vector<std::pair<int, fs::path>> files;
  for (auto const& taking : takings) files.emplace_back(taking.arrival->descriptor(), taking.arrival->name());
  for (auto const& synced : sync_files(files))
    if (!synced) return synced.error();
  std::vector<MoveResult> taken;
  auto const written = ledger_->change([&](LedgerChange& change) {
    taken.clear();
    begin_all(takings, taken, change);
  });
  if (!written) return written.error();
  for (auto& t : taken) {
    if (t.overtaken) continue;
    auto const carried = carry_from_here(t.entry, false, takings[static_cast<std::size_t>(&t - taken.data())].copy, false);
    t.exchanged = t.entry.place.empty() && t.entry.next == LedgerState::missing;
    if (carried) continue;
    if (!nothing_moved(t.entry)) return carried.error();
    if (t.entry.next == LedgerState::held)
      if (auto const gone = remove_notes(t.entry.goes_to); !gone) return gone.error();
    t.trouble = carried.error();
    t.entry.place.clear();
  }
  if (auto const synced = sync_moved(takings, taken); !synced) return synced.error();
  auto const noted = ledger_->change([&](LedgerChange& change) {
    std::vector<LedgerEntry const*> there;
    for (auto const& t : taken) {
      if (t.overtaken) continue;
      if (t.entry.place.empty()) change.remove(t.entry);
      else there.push_back(&t.entry);
    }
    change.update_all(there);
  });
  if (!noted) return noted.error();
  for (auto& t : taken)
    if (t.entry.place.empty()) t.entry.id = 0;
  return taken;
}

}  // namespace layright
