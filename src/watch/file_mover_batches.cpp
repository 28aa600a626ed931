// Batches: jobs that are made here of pieces that waited. Their originals are their orders, written from what the ledger says.
#include "base/sha256.h"
#include "watch/file_mover.h"
#include "watch/gang_piece.h"
#include "watch/wall_clock.h"
#include "write/move_file.h"

namespace layright {
namespace {

namespace fs = std::filesystem;

std::string jobs_of(std::vector<LedgerEntry> const& members) {
  std::string text = members.size() == 1 ? "job" : "jobs";
  for (auto const& member : members) text += (&member == &members.front() ? " " : ", ") + std::to_string(member.id);
  return text;
}

Error changed_meanwhile() { return {ErrorKind::try_again, "what waits for a sheet has changed meanwhile"}; }

}  // namespace

Result<LedgerEntry> FileMover::begin_batch(std::vector<LedgerEntry> members, GangOrder order) {
  LedgerEntry batch;
  auto const written = ledger_->change([&](LedgerChange& change) {
    batch = LedgerEntry{};
    batch.intake = intake_.name;
    batch.arrived = batch.changed = now_ms();
    batch.name = "gang-" + local_text(batch.arrived).substr(0, 10) + ".toml";
    change.choose_alone({name_there(batch)});
    order.pieces.clear();
    for (auto& member : members) {
      auto const now = ledger_->find(member.id);
      if (!now) throw ChangeGivenUp{now.error()};
      if (!*now || (*now)->state != LedgerState::waiting || (*now)->batch != 0 || !(*now)->decision.empty()) throw ChangeGivenUp{changed_meanwhile()};
      member = **now;
      auto piece = ordered_piece(member);
      if (!piece) throw ChangeGivenUp{piece.error()};
      order.pieces.push_back(std::move(*piece));
    }
    batch.target = order.target;
    batch.copies = 1;  // the order counts its pieces
    batch.gang = gang_order_text(order);
    batch.digest = sha256_hex(std::as_bytes(std::span(batch.gang)));
    batch.mark.bytes = static_cast<long long>(batch.gang.size());
    Promised promised;
    if (auto const chosen = choose_place(batch, promised); !chosen) throw ChangeGivenUp{chosen.error()};
    batch.place = batch.goes_to;  // it comes from nowhere
    change.add(batch);
    batch.batch = batch.id;
    change.update(batch);
    change.report({batch.id, batch.changed, "watch", "made", "a sheet for " + jobs_of(members)});
    for (auto& member : members) {
      member.batch = batch.id;
      member.reason = "goes on the sheets of job " + std::to_string(batch.id);
      member.changed = batch.changed;
      change.update(member);
      change.report({member.id, batch.changed, "watch", "ganged", member.reason});
    }
  });
  if (!written) return written.error();
  if (auto const made = write_order(batch); !made) return made.error();
  return batch;
}

Outcome FileMover::write_order(LedgerEntry& batch) {
  for (;;) {
    fs::path const path = batch.goes_to;
    auto const folder = OpenFolder::open(path.parent_path());
    if (!folder) return folder.error();
    FileMark mark;
    auto there = digest_at(*folder, path.filename().native(), &mark);
    if (!there) return there.error();
    if (there->empty()) {
      auto out = OutputFile::create(path, false, {});
      auto const written = out ? out->write(std::as_bytes(std::span(batch.gang))) : Outcome(out.error());
      auto const committed = written ? out->commit() : written;
      there = digest_at(*folder, path.filename().native(), &mark);
      if (!there) return there.error();
      if (!committed && !is_there(path)) return committed;
    }
    if (*there == batch.digest) {
      if (auto const synced = folder->sync(); !synced) return synced;
      LedgerEntry taken = batch;
      taken.mark = mark;
      taken.goes_to.clear();
      taken.state = taken.next;
      taken.changed = now_ms();
      auto const written = ledger_->change([&](LedgerChange& change) { change.update(taken); });
      if (written) batch = taken;
      return written;
    }
    // Somebody has put another file there meanwhile.
    auto const renamed = ledger_->change([&](LedgerChange& change) {
      change.choose_alone({name_there(batch)});
      Promised promised;
      if (auto const chosen = choose_place(batch, promised); !chosen) throw ChangeGivenUp{chosen.error()};
      batch.place = batch.goes_to;
      change.update(batch);
    });
    if (!renamed) return renamed;
  }
}

void FileMover::settle_members(LedgerChange& change, LedgerEntry const& batch) const {
  bool const made = batch.state == LedgerState::ready, given_up = batch.state == LedgerState::missing || batch.state == LedgerState::discarded;
  if (!batch.is_batch() || (!made && !given_up)) return;
  auto const members = ledger_->members_of(batch.id);
  if (!members) throw ChangeGivenUp{members.error()};
  for (auto member : *members) {
    if (member.state != LedgerState::waiting) continue;  // once more on its way, or on these sheets before
    if (made) member.state = LedgerState::ready;
    else member.batch = 0;
    member.reason = made ? "on the sheets of job " + std::to_string(batch.id) : "waits for a sheet";
    member.changed = batch.changed;
    change.update(member);
    change.report({member.id, batch.changed, "watch", made ? "laid" : "waiting", member.reason});
  }
}

}  // namespace layright
