// How outputs get their names: those of several entries together, so that each answer of the disk and of the ledger is waited for once.
#include <sys/stat.h>

#include <algorithm>
#include <iterator>

#include "watch/file_mover.h"
#include "watch/ledger_rows.h"
#include "watch/wall_clock.h"

namespace layright {
namespace {

LedgerEntry made_ready(LedgerEntry entry) {
  entry.state = LedgerState::ready;
  entry.changed = now_ms();
  entry.tries = entry.interrupted = 0;
  entry.reason.clear();
  return entry;
}

LedgerEvent laid_event(LedgerEntry const& ready, std::vector<LedgerOutput> const& outputs) {
  return {ready.id, ready.changed, "watch", "laid", outputs.empty() ? std::string() : outputs.front().path};
}

std::vector<LaidOutputs*> those_well(std::vector<LaidOutputs*> const& all) {
  std::vector<LaidOutputs*> well;
  std::copy_if(all.begin(), all.end(), std::back_inserter(well), [](LaidOutputs const* p) { return static_cast<bool>(p->end); });
  return well;
}

}  // namespace

FileMover::Placements FileMover::change_all(Placements const& all, std::function<void(LedgerChange&, Placements const&)> const& write) {
  if (all.empty()) return all;
  auto const written = ledger_->change([&](LedgerChange& change) { write(change, all); });
  if (written) return all;
  bool const overtaken = ledger_->overtaken() != Overtaken::no;
  for (auto* const p : all) {
    if (overtaken && all.size() > 1) {
      change_all({p}, write);
      continue;
    }
    p->end = written;
    p->overtaken = overtaken;
  }
  return those_well(all);
}

Outcome FileMover::name_outputs(LaidOutputs& p) const {
  for (auto const& f : p.fresh) {
    struct stat about {};
    auto const name = p.stem + f.ending;
    auto const digest = f.digest.empty() ? digest_of(f.file->descriptor(), intake_.ready / name) : f.digest;
    if (!digest || ::fstat(f.file->descriptor(), &about) != 0) return digest ? Error{ErrorKind::io, name + ": cannot be read back"} : digest.error();
    if (auto const renamed = f.file->rename(name); !renamed) return renamed;
    p.outputs.push_back({0, p.entry.id, p.entry.run + 1, f.kind, (intake_.ready / name).native(), *digest, about.st_size, false, now_ms(), f.pages,
                         f.copies, f.toner});
  }
  return done();
}

FileMover::Placements FileMover::begin_placing(Placements const& all) {
  auto const begun = change_all(all, [](LedgerChange& change, Placements const& these) {
    std::vector<LedgerEntry> placing;
    std::vector<LedgerEntry const*> entries;
    std::vector<LedgerOutput*> outputs;
    placing.reserve(these.size());
    for (auto* const p : these) {
      auto& e = placing.emplace_back(p->entry);
      e.state = LedgerState::placing;
      ++e.run;
      e.changed = now_ms();
      entries.push_back(&e);
      for (auto& o : p->outputs) outputs.push_back(&o);
    }
    change.update_all(entries);
    change.add_all(outputs);
  });
  for (auto* const p : begun) {
    p->entry.state = LedgerState::placing;
    ++p->entry.run;
    if (!ledger_->is_shared()) continue;
    if (auto const ours = ledger_->has(p->entry); !ours) p->end = ours.error();
    else if (!*ours) p->end = Error{ErrorKind::try_again, p->entry.name + ": another desk has gone on with it"}, p->overtaken = true;
  }
  return those_well(begun);
}

void FileMover::give_names(Placements const& all) const {
  // The job sheet first: when the PDF appears, all is there.
  for (auto* const p : all)
    for (auto f = p->fresh.rbegin(); f != p->fresh.rend() && p->end; ++f) p->end = f->file->appear();
  auto const ready = OpenFolder::open(intake_.ready);
  auto const synced = ready ? ready->sync() : Outcome(ready.error());
  for (auto* const p : all)
    if (p->end) p->end = synced;
}

void FileMover::place(std::vector<LaidOutputs>& placements) {
  Placements all;
  std::vector<std::pair<int, std::filesystem::path>> files;
  std::vector<LaidOutputs*> whose;
  for (auto& p : placements) {
    p.end = name_outputs(p);
    if (!p.end) continue;
    all.push_back(&p);
    for (auto const& f : p.fresh) files.emplace_back(f.file->descriptor(), intake_.ready / (p.stem + f.ending)), whose.push_back(&p);
  }
  auto const synced = sync_files(files);
  for (std::size_t i = 0; i < synced.size(); ++i)
    if (!synced[i]) whose[i]->end = synced[i];
  auto const begun = begin_placing(those_well(all));
  if (begun.empty()) return;
  give_names(begun);
  auto const named = those_well(begun);
  for (auto* const p : named)
    for (auto& o : p->outputs) o.there = true;
  auto const finished = change_all(named, [this](LedgerChange& change, Placements const& these) {
    std::vector<LedgerEntry> ready;
    std::vector<LedgerEntry const*> entries;
    std::vector<LedgerOutput const*> outputs;
    std::vector<LedgerEvent> events;
    ready.reserve(these.size());
    for (auto* const p : these) {
      entries.push_back(&ready.emplace_back(made_ready(p->entry)));
      for (auto const& o : p->outputs) outputs.push_back(&o);
      events.push_back(laid_event(ready.back(), p->outputs));
    }
    change.update_all(entries);
    for (auto const& each : ready) settle_members(change, each);
    change.update_all(outputs);
    change.report_all(events);
  });
  for (auto* const p : finished) p->entry = made_ready(p->entry);
  if (!ledger_->is_shared()) return;
  for (auto* const p : named)
    if (!p->end)
      if (auto const still = ledger_->has(p->entry); still && !*still) take_back(*p);
}

void FileMover::take_back(LaidOutputs const& p) {
  (void)ledger_->change([&](LedgerChange& change) {
    std::vector<std::string> names;
    for (auto const& o : p.outputs) names.push_back(ledger_key(o.path));
    change.choose_alone(names);
    for (std::size_t i = 0; i < p.fresh.size(); ++i) {
      auto const told = ledger_->tells_of(p.outputs[i]);
      if (told && !*told) p.fresh[i].file->take_back();
    }
  });
}

Outcome FileMover::finish_placing(LedgerEntry& entry, std::vector<LedgerOutput> outputs) {
  auto const ready = made_ready(entry);
  for (auto& o : outputs) o.there = true;
  auto const written = ledger_->change([&](LedgerChange& change) {
    change.update(ready);
    settle_members(change, ready);
    for (auto const& o : outputs) change.update(o);
    change.report(laid_event(ready, outputs));
  });
  if (written) entry = ready;
  return written;
}

}  // namespace layright
