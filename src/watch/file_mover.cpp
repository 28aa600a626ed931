#include "watch/file_mover.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <nlohmann/json.hpp>

#include "report/json_turns.h"
#include "watch/copy_ahead.h"
#include "watch/held_note.h"
#include "watch/wall_clock.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

bool lies_below(fs::path const& folder, fs::path const& path) {
  return std::mismatch(folder.begin(), folder.end(), path.begin(), path.end()).first == folder.end();
}

Outcome write_note(fs::path const& path, std::string const& text) {
  auto out = OutputFile::create(path, true, {});
  if (!out) return out.error();
  if (auto const written = out->write(std::as_bytes(std::span(text))); !written) return written;
  return out->commit();
}

}  // namespace

Result<OpenFolder> folder_for(fs::path const& root, fs::path const& path) {
  if (!lies_below(root, path)) return OpenFolder::open(path.parent_path());
  auto folder = OpenFolder::open(root);
  for (auto const& part : path.lexically_relative(root).parent_path())
    if (folder) folder = folder->below(part.native());
  return folder;
}

Result<std::string> digest_at(OpenFolder const& folder, std::string const& name, FileMark* mark) {
  UniqueFd const descriptor(::openat(folder.descriptor(), name.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC));
  auto const path = folder.path() / name;
  if (!descriptor) {
    if (errno == ENOENT || errno == ELOOP) return std::string();
    return Error{ErrorKind::io, path.string() + ": cannot be read: " + std::strerror(errno)};
  }
  struct stat about {};
  Result<std::string> digest = std::string();
  if (::fstat(descriptor.get(), &about) == 0 && S_ISREG(about.st_mode)) digest = digest_of(descriptor.get(), path);
  if (mark) *mark = mark_of(about);
  return digest;
}

void FileMover::know(FileMark const& mark, std::string const& digest) {
  constexpr std::size_t kMostKnown = 16;
  known_.emplace_front(mark, digest);
  if (known_.size() > kMostKnown) known_.pop_back();
}

Result<std::string> FileMover::digest_here(OpenFolder const& folder, std::string const& name, FileMark* mark) {
  struct stat about {};
  bool const large =
      ::fstatat(folder.descriptor(), name.c_str(), &about, AT_SYMLINK_NOFOLLOW) == 0 && S_ISREG(about.st_mode) && worth_copying_ahead(about.st_size);
  if (!large) return digest_at(folder, name, mark);
  auto const known = std::find_if(known_.begin(), known_.end(), [&](auto const& each) { return each.first == mark_of(about); });
  if (known == known_.end()) {
    unread_ = folder.path() / name;
    return Error{ErrorKind::io, unread_->string() + ": cannot be read"};
  }
  if (mark) *mark = known->first;
  return known->second;
}

bool FileMover::came_from_outside(LedgerEntry const& entry) const {
  return lies_below(intake_.in, entry.place) && !lies_below(intake_.held, entry.place) && !lies_below(intake_.originals, entry.place);
}

Outcome FileMover::write_notes(LedgerEntry const& entry) const {
  if (auto const text = write_note(entry.goes_to + kNoteEndings[0], held_text(entry, more_words_)); !text) return text;
  return write_note(entry.goes_to + kNoteEndings[1],
                    with_turns_escaped(held_json(entry, more_words_).dump(2, ' ', false, Json::error_handler_t::replace)) + "\n");
}

Outcome FileMover::remove_notes(std::string const& place) const {
  for (auto const* note : kNoteEndings)
    if (auto const gone = remove_file(fs::path(place + note)); !gone) return gone;
  return done();
}

Outcome FileMover::remove_source(LedgerEntry const& entry) {
  auto const folder = folder_for(intake_.in, entry.place);
  if (!folder) return done();
  auto const name = fs::path(entry.place).filename().native();
  struct stat about {};
  bool const there = ::fstatat(folder->descriptor(), name.c_str(), &about, AT_SYMLINK_NOFOLLOW) == 0 && S_ISREG(about.st_mode);
  // Another file may have come under the name meanwhile: that one is not ours yet.
  bool ours = there && mark_of(about) == entry.mark;
  if (there && !ours && !came_from_outside(entry)) {
    auto const digest = digest_here(*folder, name);
    if (!digest) return digest.error();
    ours = *digest == entry.digest;
  }
  if (ours)
    if (auto const gone = remove_file(*folder, name); !gone) return gone;
  return folder->sync();
}

Outcome FileMover::carry_from_here(LedgerEntry& entry, bool resumed, OutputFile* copy, bool syncs_folders) {
  if (resumed) {
    auto const to = OpenFolder::open(fs::path(entry.goes_to).parent_path());
    if (!to) return to.error();
    FileMark mark;
    auto const there = digest_here(*to, fs::path(entry.goes_to).filename().native(), &mark);
    if (!there) return there.error();
    if (*there != entry.digest)
      if (auto const back = give_back_stranger(entry, *to); !back) return back;
    if (*there == entry.digest) {  // it has got there; what was left to do is done now
      if (auto const synced = to->sync(); !synced) return synced;
      if (auto const gone = remove_source(entry); !gone) return gone;
      entry.mark = mark;
      if (entry.next == LedgerState::held)
        if (auto const notes = write_notes(entry); !notes) return notes;
    } else if (auto const carried = carry(entry, copy, syncs_folders); !carried || entry.place.empty() || entry.state == LedgerState::missing) {
      return carried;
    }
  } else if (auto const carried = carry(entry, copy, syncs_folders); !carried || entry.place.empty() || entry.state == LedgerState::missing) {
    return carried;
  }
  if (fs::path(entry.place).parent_path() == intake_.held)
    if (auto const gone = remove_notes(entry.place); !gone) return gone;
  entry.place = std::exchange(entry.goes_to, std::string());
  entry.state = entry.next;
  entry.changed = now_ms();
  return done();
}

void FileMover::take_nothing(LedgerEntry& entry) const {
  entry.place.clear();
  entry.goes_to.clear();
  entry.state = LedgerState::missing;
  entry.changed = now_ms();
}

Outcome FileMover::carry(LedgerEntry& entry, OutputFile* copy, bool syncs_folders) {
  bool const arrives = came_from_outside(entry);
  for (;;) {
    fs::path const from = entry.place, to = entry.goes_to;
    auto const lies_in = folder_for(intake_.in, from);
    auto const goes_in = OpenFolder::open(to.parent_path());
    if (!goes_in) return goes_in.error();
    FileMark mark;
    struct stat about {};
    bool const there = lies_in && ::fstatat(lies_in->descriptor(), from.filename().c_str(), &about, AT_SYMLINK_NOFOLLOW) == 0;
    if (there) mark = mark_of(about);
    if (arrives && (!there || mark != entry.mark)) return take_nothing(entry), done();
    if (!arrives) {
      auto const now = look_at_original(entry);
      if (!now) return now.error();
      // Other bytes at rest are another file, also where it was given the number of the one that was taken out (inodes are used again).
      if (now->now != OriginalNow::itself) return give_up_original(entry, now->now == OriginalNow::gone ? now->now : OriginalNow::replaced);
    }
    if (entry.next == LedgerState::held)
      if (auto const notes = write_notes(entry); !notes) return notes;
    // Bytes that change while an original is moved are found when it is laid; an arrival whose bytes change is none yet.
    auto const is_it = [&](struct stat const& found) {
      auto const now_marked = mark_of(found);
      return arrives ? now_marked == mark : now_marked.device == mark.device && now_marked.inode == mark.inode;
    };
    auto const end = move_file(*lies_in, from.filename().native(), *goes_in, to.filename().native(), {is_it, copy, syncs_folders});
    if (!end) return end.error();
    if (*end == MoveEnd::moved) {
      if (::fstatat(goes_in->descriptor(), to.filename().c_str(), &about, AT_SYMLINK_NOFOLLOW) == 0) entry.mark = mark_of(about);
      return done();
    }
    if (*end == MoveEnd::source_gone) continue;
    if (entry.next == LedgerState::held)
      if (auto const gone = remove_notes(entry.goes_to); !gone) return gone;
    if (*end == MoveEnd::exchanged && arrives) {
      take_nothing(entry);
      entry.next = LedgerState::missing;
      return done();
    }
    if (*end == MoveEnd::exchanged) continue;  // the next look tells what lies there now
    // Something has come under the name that was free: another one, written down before it is used.
    auto const written = ledger_->change([&](LedgerChange& change) {
      change.choose_alone({name_there(entry)});
      Promised promised;
      if (auto const chosen = choose_place(entry, promised); !chosen) throw ChangeGivenUp{chosen.error()};
      change.update(entry);
    });
    if (!written) return written;
  }
}

Outcome FileMover::move_on(LedgerEntry& entry, LedgerState next, LedgerEvent const& event, OutputFile* copy) {
  LedgerEntry moving = entry;
  moving.state = LedgerState::moving;
  moving.next = next;
  moving.changed = now_ms();
  auto const written = ledger_->change([&](LedgerChange& change) {
    change.choose_alone({name_there(moving)});
    Promised promised;
    if (auto const chosen = choose_place(moving, promised); !chosen) throw ChangeGivenUp{chosen.error()};
    change.update(moving);
    if (!event.what.empty()) change.report({entry.id, moving.changed, event.who, event.what, event.why});
  });
  if (!written) return written;
  entry = moving;
  if (auto const carried = carry_from_here(entry, false, copy); !carried) return carried;
  return ledger_->change([&](LedgerChange& change) {
    change.update(entry);
    settle_members(change, entry);
  });
}

Outcome FileMover::resume(LedgerEntry& entry, OutputFile* copy) {
  if (entry.state == LedgerState::moving && entry.is_batch() && entry.place == entry.goes_to) return write_order(entry);
  if (entry.state == LedgerState::moving) {
    bool const arrives = came_from_outside(entry);
    if (auto const carried = carry_from_here(entry, true, copy); !carried) return carried;
    bool const never_taken = arrives && entry.place.empty();
    auto const written = ledger_->change([&](LedgerChange& change) {
      if (never_taken) return change.remove(entry);
      change.update(entry);
      settle_members(change, entry);
    });
    if (written && never_taken) entry.id = 0;
    return written;
  }
  if (entry.state != LedgerState::placing) return done();
  auto outputs = ledger_->outputs_of(entry.id);
  if (!outputs) return outputs.error();
  std::erase_if(*outputs, [&](LedgerOutput const& o) { return o.there || o.run != entry.run; });
  auto const ready = OpenFolder::open(intake_.ready);
  if (!ready) return ready.error();
  std::vector<std::string> found;
  for (auto const& o : *outputs) {
    auto const name = fs::path(o.path).filename().native();
    auto const digest = digest_here(*ready, name);
    if (!digest) return digest.error();
    if (*digest == o.digest) found.push_back(name);
  }
  if (auto const synced = ready->sync(); !synced) return synced;
  if (found.size() == outputs->size()) return finish_placing(entry, std::move(*outputs));
  // Not all had their names: those that had them go again, and the arrival is laid anew.
  for (auto const& name : found)
    if (auto const gone = remove_file(*ready, name); !gone) return gone;
  LedgerEntry again = entry;
  again.state = LedgerState::taken;
  again.run = entry.run - 1;
  auto const written = ledger_->change([&](LedgerChange& change) {
    for (auto const& o : *outputs) change.remove(o);
    change.update(again);
  });
  if (written) entry = again;
  return written;
}

}  // namespace layright
