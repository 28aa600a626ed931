// What is done where something else lies than the ledger says.
#include <fcntl.h>
#include <sys/stat.h>

#include <system_error>
#include <vector>

#include "watch/file_mover.h"
#include "watch/intake_settings.h"
#include "watch/wall_clock.h"

namespace layright {
namespace fs = std::filesystem;

Result<fs::path> FileMover::goes_to_folder(std::string const& digest, std::string const& target) const {
  auto const same = ledger_->find_same(digest, intake_.name, target, 0);
  if (!same) return same.error();
  return *same && settings_of(intake_).duplicates == Duplicates::hold ? intake_.held : intake_.originals;
}

Result<OriginalLook> FileMover::look_at_original(LedgerEntry const& entry) {
  fs::path const place = entry.place;
  auto const folder = folder_for(intake_.in, place);
  struct stat about {};
  if (!folder || ::fstatat(folder->descriptor(), place.filename().c_str(), &about, AT_SYMLINK_NOFOLLOW) != 0 || !S_ISREG(about.st_mode))
    return OriginalLook{};
  auto mark = mark_of(about);
  if (mark == entry.mark) return OriginalLook{OriginalNow::itself, entry.digest, mark};
  // One that was copied from another disk, or came back from a backup, is another file with the same bytes.
  auto const digest = digest_here(*folder, place.filename().native(), &mark);
  if (!digest) return digest.error();
  if (digest->empty()) return OriginalLook{};
  bool const same_file = mark.inode == entry.mark.inode && mark.device == entry.mark.device;
  return OriginalLook{*digest == entry.digest ? OriginalNow::itself : same_file ? OriginalNow::rewritten : OriginalNow::replaced, *digest, mark};
}

Outcome FileMover::give_up_original(LedgerEntry& entry, OriginalNow found) {
  fs::path const place = entry.place;
  entry.state = found == OriginalNow::replaced ? LedgerState::discarded : LedgerState::missing;
  entry.reason = "its original was taken away";
  if (found == OriginalNow::replaced) {
    auto const lies_in = OpenFolder::open(place.parent_path()), arrives_in = OpenFolder::open(intake_.in);
    if (!lies_in || !arrives_in) return lies_in ? arrives_in.error() : lies_in.error();
    auto const back = put_back(*lies_in, place.filename().native(), *arrives_in, fs::path(entry.name).filename().native());
    if (!back) return back.error();
    entry.reason = "another file was put in its place; that one is a new arrival (" + *back + ")";
  }
  if (place.parent_path() == intake_.held)
    if (auto const gone = remove_notes(entry.place); !gone) return gone;
  entry.place.clear();
  entry.goes_to.clear();
  entry.decision.clear();
  entry.changed = now_ms();
  return done();
}

Outcome FileMover::clear_watched_folder() {
  auto const folder = OpenFolder::open(intake_.in);
  if (!folder) return done();
  std::vector<std::string> left;
  std::error_code error;
  for (fs::directory_iterator it(intake_.in, error), end; !error && it != end; it.increment(error))
    if (is_temporary_output(it->path().filename().native())) left.push_back(it->path().filename().native());
  Outcome all = done();
  for (auto const& name : left) {
    auto const cleared = [&]() -> Outcome {
      auto const digest = digest_here(*folder, name);
      if (!digest) return unread_ ? done() : Outcome(digest.error());
      auto const known = digest->empty() ? Result<bool>(false) : ledger_->knows(*digest);
      if (!known) return known.error();
      if (*known) return remove_file(*folder, name);
      auto const back = put_back(*folder, name, *folder, "given-back");
      return back ? done() : Outcome(back.error());
    }();
    if (!cleared) all = cleared;
  }
  return all;
}

Outcome FileMover::give_back_stranger(LedgerEntry const& entry, OpenFolder const& lies_in) const {
  fs::path const place = entry.place, there = entry.goes_to;
  struct stat about {};
  auto const folder = folder_for(intake_.in, place);
  bool const source_is_there = folder && ::fstatat(folder->descriptor(), place.filename().c_str(), &about, AT_SYMLINK_NOFOLLOW) == 0;
  bool const stranger = ::fstatat(lies_in.descriptor(), there.filename().c_str(), &about, AT_SYMLINK_NOFOLLOW) == 0;
  if (!came_from_outside(entry) || !folder || source_is_there || !stranger) return done();
  auto const back = put_back(lies_in, there.filename().native(), *folder, place.filename().native());
  return back ? done() : Outcome(back.error());
}

}  // namespace layright
