// How outputs get their names.
#include <sys/stat.h>

#include "watch/file_mover.h"
#include "watch/wall_clock.h"

namespace layright {

Outcome FileMover::place(LedgerEntry& entry, std::vector<FreshOutput> const& fresh, std::string const& stem) {
  std::vector<LedgerOutput> outputs;
  for (auto const& f : fresh) {
    struct stat about {};
    auto const name = stem + f.ending;
    auto const digest = f.digest.empty() ? digest_of(f.file->descriptor(), intake_.ready / name) : f.digest;
    if (!digest || ::fstat(f.file->descriptor(), &about) != 0) return digest ? Error{ErrorKind::io, name + ": cannot be read back"} : digest.error();
    if (auto const renamed = f.file->rename(name); !renamed) return renamed;
    outputs.push_back(
        {0, entry.id, entry.run + 1, f.kind, (intake_.ready / name).native(), *digest, about.st_size, false, now_ms(), f.pages, f.copies, f.toner});
  }
  LedgerEntry placing = entry;
  placing.state = LedgerState::placing;
  placing.run = entry.run + 1;
  placing.changed = now_ms();
  auto const written = ledger_->change([&](LedgerChange& change) {
    change.update(placing);
    for (auto& o : outputs) change.add(o);
  });
  if (!written) return written;
  entry = placing;
  auto const ours = ledger_->has(entry);
  if (!ours || !*ours) return ours ? Error{ErrorKind::try_again, entry.name + ": another desk has gone on with it"} : ours.error();
  // The job sheet first: when the PDF appears, all is there.
  for (auto f = fresh.rbegin(); f != fresh.rend(); ++f)
    if (auto const committed = f->file->commit(); !committed) return committed;
  auto const finished = finish_placing(entry, outputs);
  if (finished || !ledger_->is_shared()) return finished;
  if (auto const still = ledger_->has(entry); still && !*still) take_back(fresh, outputs);
  return finished;
}

void FileMover::take_back(std::vector<FreshOutput> const& fresh, std::vector<LedgerOutput> const& outputs) {
  (void)ledger_->change([&](LedgerChange& change) {
    change.choose_alone(intake_.name);
    for (std::size_t i = 0; i < fresh.size(); ++i) {
      auto const told = ledger_->tells_of(outputs[i]);
      if (told && !*told) fresh[i].file->take_back();
    }
  });
}

Outcome FileMover::finish_placing(LedgerEntry& entry, std::vector<LedgerOutput> outputs) {
  LedgerEntry ready = entry;
  ready.state = LedgerState::ready;
  ready.changed = now_ms();
  ready.tries = ready.interrupted = 0;
  ready.reason.clear();
  std::string const made = outputs.empty() ? std::string() : outputs.front().path;
  for (auto& o : outputs) o.there = true;
  auto const written = ledger_->change([&](LedgerChange& change) {
    change.update(ready);
    for (auto const& o : outputs) change.update(o);
    change.report({entry.id, ready.changed, "watch", "laid", made});
  });
  if (written) entry = ready;
  return written;
}

}  // namespace layright
