// How an intake makes sheets of what waits to share one.
#include <algorithm>
#include <map>
#include <utility>

#include "watch/decision.h"
#include "watch/folder_intake.h"
#include "watch/gang_batch.h"
#include "watch/wall_clock.h"

namespace layright {
namespace {

using namespace std::chrono_literals;

constexpr auto kLookAgain = 1min;   // the clock on the wall may be set
constexpr auto kOthersMadeIt = 2s;  // of a shared ledger: what other desks put there is not told

/// What may share a sheet: of one target, with one share of white, its colors meant for one press as far as files say.
struct GangGroup {
  std::string target;
  std::optional<White> white;
  std::string press;
  std::vector<LedgerEntry> entries;
  std::vector<WaitingPiece> pieces;
  bool takes(std::string const& of_press) const { return press.empty() || of_press.empty() || press == of_press; }
};

bool same_white(std::optional<White> const& a, std::optional<White> const& b) {
  return a.has_value() == b.has_value() && (!a || (a->on == b->on && a->percent == b->percent));
}

}  // namespace

bool FolderIntake::gangs(LedgerEntry const& entry) const {
  if (entry.is_batch()) return false;
  auto const target = place_.configuration->targets.find(entry.target);
  auto const* const rule = rule_for(intake(), std::filesystem::path(entry.name).filename().native());
  return rule && rule->gang ? *rule->gang : target != place_.configuration->targets.end() && target->second.gang.waits;
}

Outcome FolderIntake::wait_for_others(ArrivalJob const& job, LedgerEntry& entry) {
  WaitingPiece piece;
  piece.boxes = job.boxes();
  piece.count = job.options().inspect->target.copies;
  piece.press = job.promised_press();
  piece.since = now_ms();
  if (auto said = parse_decision(entry.decision)) piece.said = std::move(*said);
  entry.gang = gang_text(piece);
  entry.state = LedgerState::waiting;
  entry.verdict = "ready";
  entry.reason = "waits for a sheet";
  entry.decision.clear();
  entry.send.clear();
  entry.batch = 0;
  entry.tries = entry.interrupted = 0;
  entry.changed = piece.since;
  auto const written = place_.ledger->change([&](LedgerChange& change) {
    change.update(entry);
    change.report({entry.id, entry.changed, "watch", "waiting", entry.reason});
  });
  if (!written) return written;
  at_rest_now(entry);
  gang_due_.reset();
  look_at_waiting_ = true;
  return done();
}

void FolderIntake::gang_what_waits(SteadyTime now) {
  if (!look_at_waiting_ && (!gang_due_ || now < *gang_due_)) return;
  look_at_waiting_ = false;
  gang_due_ = now + (place_.ledger->is_shared() ? SteadyTime::duration(kOthersMadeIt) : SteadyTime::duration(kLookAgain));
  auto const waiting = place_.ledger->waiting(intake().name);
  if (!waiting) return trouble(waiting.error(), now);
  std::vector<GangGroup> groups;
  for (auto const& entry : *waiting) {
    auto piece = parse_waiting_piece(entry.gang);
    auto const* const rule = rule_for(intake(), std::filesystem::path(entry.name).filename().native());
    auto const white = rule ? rule->white : std::nullopt;
    if (!piece || !place_.configuration->targets.contains(entry.target)) {
      auto const why = piece ? "the configuration has no target " + entry.target + " any more" : piece.error().message;
      auto const held = place_.ledger->change([&](LedgerChange& change) {
        auto const found = place_.ledger->find(entry.id);
        if (!found) throw ChangeGivenUp{found.error()};
        auto lost = found->value_or(LedgerEntry{});
        if (lost.state == LedgerState::waiting && lost.batch == 0 && lost.decision.empty()) hold_by_itself(change, lost, why);
      });
      if (!held) return trouble(held.error(), now);
      look_into_ledger_ = true;
      continue;
    }
    auto group = std::ranges::find_if(
        groups, [&](GangGroup const& g) { return g.target == entry.target && same_white(g.white, white) && g.takes(piece->press); });
    if (group == groups.end()) group = groups.insert(groups.end(), {entry.target, white, {}, {}, {}});
    if (group->press.empty()) group->press = piece->press;
    group->entries.push_back(entry);
    group->pieces.push_back(std::move(*piece));
  }
  for (auto const& group : groups) {
    auto const wall = now_ms();
    auto const choice = choose_batch(group.pieces, place_.configuration->targets.at(group.target), wall);
    if (choice.next_due) gang_due_ = std::min(*gang_due_, now + std::chrono::milliseconds(std::max(*choice.next_due - wall, 10LL)));
    if (choice.due.empty()) continue;
    std::vector<LedgerEntry> members;
    for (auto const i : choice.due) members.push_back(group.entries[i]);
    GangOrder order;
    order.target = group.target;
    order.white = group.white;
    auto batch = custody_.begin_batch(std::move(members), std::move(order));
    if (!batch && batch.error().kind == ErrorKind::try_again) {  // a person, or another desk, was faster
      (void)place_.ledger->overtaken();
      look_at_waiting_ = true;
      continue;
    }
    if (!batch) return trouble(batch.error(), now);
    place_.log->entry(LogLevel::info, "ganged", *batch, std::to_string(choice.due.size()) + (choice.due.size() == 1 ? " job" : " jobs"));
    queue(std::move(*batch), now);
    look_at_waiting_ = true;
  }
}

/// Error (no_input): a piece's original is not kept any more.
Outcome FolderIntake::order_of_batch(ArrivalOptions& options) const {
  auto order = parse_gang_order(options.entry.gang, options.entry.place);
  if (!order) return order.error();
  for (auto& piece : order->pieces) {
    auto const found = place_.ledger->find(std::atoll(piece.label.c_str()));
    if (!found) return found.error();
    if (!*found || (*found)->place.empty())
      return Error{ErrorKind::no_input, "the original of job " + piece.label + " (" + piece.file.filename().string() + ") is not kept any more"};
    piece.file = (*found)->place;
    options.members.push_back(**found);
  }
  options.order = std::move(*order);
  auto const decision = parse_decision(options.entry.decision);
  if (decision && decision->kind == Decision::Kind::again) options.only_sheet = decision->sheet;
  return done();
}

/// Of a batch that was never laid: pieces that cannot be laid any more are held by themselves, the others wait again.
Outcome FolderIntake::take_apart(ArrivalJob const& job, LedgerEntry& batch) {
  auto const& held = job.held_members();
  auto const& members = job.options().members;
  batch.state = LedgerState::discarded;
  batch.reason = job.refusal();
  batch.decision.clear();
  batch.changed = now_ms();
  auto const written = place_.ledger->change([&](LedgerChange& change) {
    for (auto const& each : held) {
      auto const found = place_.ledger->find(members[each.piece].id);
      if (!found) throw ChangeGivenUp{found.error()};
      if (!*found || (*found)->batch != batch.id || (*found)->state != LedgerState::waiting) continue;
      auto member = **found;
      hold_by_itself(change, member, each.reason);
      member.findings = each.findings;
      change.update(member);
    }
    change.update(batch);
    change.report({batch.id, batch.changed, "watch", "discarded", batch.reason});
    custody_.settle_members(change, batch);
  });
  if (!written) return written;
  at_rest_now(batch);
  look_at_waiting_ = look_into_ledger_ = true;
  return done();
}

void FolderIntake::hold_by_itself(LedgerChange& change, LedgerEntry& member, std::string const& why) const {
  Decision decision;
  decision.kind = Decision::Kind::hold;
  decision.why = why;
  member.batch = 0;
  member.decision = decision_text(decision);
  member.reason = why;
  change.update(member);
}

Outcome FolderIntake::hold_members(LedgerEntry const& batch, std::string const& why) {
  look_into_ledger_ = true;
  return place_.ledger->change([&](LedgerChange& change) {
    auto const members = place_.ledger->members_of(batch.id);
    if (!members) throw ChangeGivenUp{members.error()};
    for (auto member : *members)
      if (member.state == LedgerState::waiting) hold_by_itself(change, member, why);
  });
}

}  // namespace layright
