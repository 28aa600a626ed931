#include "watch/decide.h"

#include <algorithm>

#include "geometry/length.h"
#include "watch/gang_piece.h"
#include "watch/wall_clock.h"

namespace layright {
namespace {

std::string job_words(LedgerEntry const& entry) { return "job " + std::to_string(entry.id) + " (" + entry.name + ")"; }

Outcome check_words(Decision const& d, Configuration const& configuration) {
  if (!d.target.empty() && !configuration.targets.contains(d.target))
    return Error{ErrorKind::usage, "--target: there is no target '" + d.target + "' in the configuration"};
  PlacementOptions scale;
  if (!d.scale.empty())
    if (auto const good = parse_scale(d.scale, scale); !good) return Error{ErrorKind::usage, "--scale: " + good.error().message};
  if (d.width.empty()) return done();
  auto const given = parse_length(d.width);
  if (!given) return Error{ErrorKind::usage, "--width: " + given.error().message};
  if (given->in_points() <= 0) return Error{ErrorKind::usage, "--width: a size must be more than nothing"};
  return done();
}

/// Why it cannot be released; `entry` is not held, or is already on its way.
Error not_held(LedgerEntry const& entry) {
  if (entry.state == LedgerState::waiting && entry.batch > 0) return {ErrorKind::usage, job_words(entry) + " is on its way: it " + entry.reason};
  bool const on_its_way =
      !entry.decision.empty() || entry.state == LedgerState::moving || entry.state == LedgerState::taken || entry.state == LedgerState::placing;
  if (on_its_way) return {ErrorKind::usage, job_words(entry) + " is already queued"};
  return {ErrorKind::usage, job_words(entry) + " is not held: it is " + std::string(word(entry.state)) +
                                (entry.state == LedgerState::ready ? ". To lay it once more: layright again " + std::to_string(entry.id) : "")};
}

/// The story tells what is said now, by whom; what is done goes by all that was said.
LedgerEvent released(LedgerEntry& entry, Story const& story, Decision decision) {
  decision.kind = Decision::Kind::release;
  LedgerEvent event{entry.id, 0, {}, "released", decision_text(decision)};
  entry.decision = decision_text(with_said_before(std::move(decision), said_before(story), entry.target));
  return event;
}

}  // namespace

Result<LedgerEvent> gang_now(LedgerEntry& entry) {
  if (entry.state != LedgerState::waiting || entry.batch > 0 || !entry.decision.empty()) return not_held(entry);
  auto piece = parse_waiting_piece(entry.gang);
  if (!piece) return piece.error();
  piece->now = true;
  entry.gang = gang_text(*piece);
  return LedgerEvent{entry.id, 0, {}, "gang now", {}};
}

Result<GangedNow> gang_all_now(Ledger& ledger, std::vector<std::string> const& intakes, std::string const& target, std::string const& who) {
  GangedNow all;
  auto const written = ledger.change([&](LedgerChange& change) {
    all = {};
    for (auto const& intake : intakes) {
      auto const waiting = ledger.waiting(intake);
      if (!waiting) throw ChangeGivenUp{waiting.error()};
      for (auto const& each : *waiting) {
        auto entry = ledger.find(each.id);
        if (!entry) throw ChangeGivenUp{entry.error()};
        if (!*entry || (!target.empty() && (*entry)->target != target)) continue;
        auto const piece = parse_waiting_piece((*entry)->gang);
        auto const event = gang_now(**entry);
        if (!event) continue;  // somebody has decided otherwise
        ++all.waiting;
        if (piece && piece->now) continue;
        change.update(**entry);
        change.report({each.id, now_ms(), who, event->what, event->why});
        ++all.marked;
      }
    }
  });
  return written ? Result<GangedNow>(all) : written.error();
}

Result<LedgerEvent> release(LedgerEntry& entry, Story const& story, Decision decision, Configuration const& configuration) {
  bool const waits = entry.state == LedgerState::waiting && entry.batch == 0 && entry.decision.empty();
  bool const says =
      !decision.incoming.empty() || !decision.scale.empty() || !decision.width.empty() || !decision.target.empty() || !decision.accept.empty();
  if (waits && !says) return gang_now(entry);
  if (waits) {  // laid as it is said, it waits again
    if (auto const good = check_words(decision, configuration); !good) return good.error();
    return released(entry, story, std::move(decision));
  }
  if (entry.is_batch() && (!decision.incoming.empty() || !decision.scale.empty() || !decision.width.empty() || !decision.target.empty()))
    return Error{ErrorKind::usage, job_words(entry) + " is a sheet of several pieces. Say that of each piece: layright discard " +
                                       std::to_string(entry.id) + " holds them by themselves"};
  if (entry.state != LedgerState::held || !entry.decision.empty()) return not_held(entry);
  if (auto const good = check_words(decision, configuration); !good) return good.error();
  if (auto const whole = complete_release(decision, entry); !whole) return whole.error();
  return released(entry, story, std::move(decision));
}

Result<LedgerEvent> lay_again(LedgerEntry& entry, Story const& story, AgainPart part) {
  bool const at_rest = entry.state == LedgerState::ready || entry.state == LedgerState::discarded || entry.state == LedgerState::skipped;
  if (!entry.decision.empty()) return not_held(entry);
  if (entry.state == LedgerState::waiting)
    return entry.batch > 0
               ? not_held(entry)
               : Error{ErrorKind::usage, job_words(entry) + " waits for a sheet. To have it now: layright release " + std::to_string(entry.id)};
  if (!at_rest)
    return Error{ErrorKind::usage, job_words(entry) + " is " + std::string(word(entry.state)) +
                                       (entry.state == LedgerState::held ? ". To let it go on: layright release " + std::to_string(entry.id)
                                                                         : std::string(", so it cannot be laid again now"))};
  if (entry.place.empty()) return Error{ErrorKind::no_input, job_words(entry) + ": its original is gone. Ask for the file again"};
  if (entry.send == "wanted" || entry.send == "sending") return Error{ErrorKind::try_again, job_words(entry) + " is being sent. Wait for its end"};
  auto decision = part.anew ? Decision() : said_before(story);
  decision.kind = Decision::Kind::again;
  decision.sheet = part.sheet;
  decision.copies = part.copies;
  entry.decision = decision_text(decision);
  if (part.anew) return LedgerEvent{entry.id, 0, {}, kDecideAnew, "what was released is set aside"};
  auto what = part.sheet > 0    ? "sheet " + std::to_string(part.sheet)
              : part.copies > 0 ? std::to_string(part.copies) + (part.copies == 1 ? " copy" : " copies")
                                : std::string();
  for (auto const& line : release_words_of(story)) what += (what.empty() ? "" : "; ") + ("as released by " + line);
  return LedgerEvent{entry.id, 0, {}, "again", what};
}

Result<LedgerEvent> print_laid(LedgerEntry& entry, Configuration const& configuration) {
  if (!entry.decision.empty()) return not_held(entry);
  if (entry.state != LedgerState::ready) return Error{ErrorKind::usage, job_words(entry) + " is not ready"};
  if (entry.batch > 0 && !entry.is_batch())
    return Error{ErrorKind::usage, job_words(entry) + " lies on the sheets of job " + std::to_string(entry.batch) + ". Print that one"};
  if (entry.send == "wanted" || entry.send == "sending") return Error{ErrorKind::try_again, job_words(entry) + " is being sent already"};
  if (!entry.send.empty() && entry.send != "refused")
    return Error{ErrorKind::usage, job_words(entry) + " was printed. To print it once more: layright again " + std::to_string(entry.id)};
  auto const target = configuration.targets.find(entry.target);
  if (target == configuration.targets.end() || (target->second.press.queue.empty() && target->second.press.ipp.empty()))
    return Error{ErrorKind::usage, job_words(entry) + ": its target names no press that can be reached. Give the press a queue or an address"};
  entry.send = "wanted";
  entry.send_name.clear();
  entry.send_reported.clear();
  return LedgerEvent{entry.id, 0, {}, "to be printed", {}};
}

Result<LedgerEvent> discard(LedgerEntry& entry, std::string const& why) {
  bool const waits = entry.state == LedgerState::waiting && entry.batch == 0;
  if ((entry.state != LedgerState::held && !waits) || !entry.decision.empty()) return not_held(entry);
  Decision decision;
  decision.kind = Decision::Kind::discard;
  decision.why = why;
  entry.decision = decision_text(decision);
  entry.reason = why;
  return LedgerEvent{entry.id, 0, {}, "discarded", why};
}

Outcome decide(Ledger& ledger, long long id, std::string const& who, Decide const& what) {
  Outcome decided = done();
  auto const written = ledger.change([&](LedgerChange& change) {
    auto entry = ledger.find(id);
    if (!entry) decided = entry.error();
    else if (!*entry) decided = Error{ErrorKind::no_input, "there is no job " + std::to_string(id) + " in " + ledger.path().string()};
    auto const story = ledger.events_of(id);
    if (decided && !story) decided = story.error();
    if (!decided) return;
    auto const event = what(**entry, *story);
    if (!event) {
      decided = event.error();
      return;
    }
    change.update(**entry);
    change.report({id, now_ms(), who, event->what, event->why});
  });
  return written ? decided : written;
}

Result<int> sheets_of_job(Ledger const& ledger, long long id) {
  auto const outputs = ledger.outputs_of(id);
  if (!outputs) return outputs.error();
  int most = 0;  // one that was made again by itself is among them
  for (auto const& output : *outputs) most = std::max(most, output.kind == "pdf" ? output.pages : 0);
  return most;
}

Outcome count_spoiled(Ledger& ledger, long long id, std::string const& who, int sheets, std::string const& why) {
  auto const outputs = ledger.outputs_of(id);
  if (!outputs) return outputs.error();
  auto const entry = ledger.find(id);
  if (entry && *entry && (*entry)->batch > 0 && !(*entry)->is_batch())
    return Error{ErrorKind::usage, job_words(**entry) + " lies on the sheets of job " + std::to_string((*entry)->batch) + ": layright spoiled " +
                                       std::to_string((*entry)->batch) + " --piece " + std::to_string(id)};
  if (outputs->empty())
    return Error{ErrorKind::no_input,
                 "job " + std::to_string(id) + " was never laid in " + ledger.path().string() + ", so none of its sheets can be spoiled"};
  return ledger.change([&](LedgerChange& change) {
    change.spoil(id, now_ms(), who, sheets, why);
    change.report({id, now_ms(), who, "spoiled", std::to_string(sheets) + (sheets == 1 ? " sheet: " : " sheets: ") + why});
  });
}

}  // namespace layright
