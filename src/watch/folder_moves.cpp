// The desk's part that brings files from place to place: arrivals that are whole, moves to other disks, originals that somebody still writes to.
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <utility>

#include "base/unique_fd.h"
#include "watch/folder_intake.h"
#include "watch/wall_clock.h"
#include "watch/whole_file.h"

namespace layright {
namespace {

namespace fs = std::filesystem;
using namespace std::chrono_literals;

constexpr std::size_t kMostAtOnce = 16;  // arrivals taken in one transaction
constexpr auto kCannotMove = 60s;        // before an arrival that cannot be moved is tried again

UniqueFd opened(fs::path const& path) { return UniqueFd(::open(path.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC)); }

bool is_on(long long device, fs::path const& folder) {
  struct stat about {};
  return ::stat(folder.c_str(), &about) != 0 || static_cast<long long>(about.st_dev) == device;
}

}  // namespace

void FolderIntake::take_whole(SteadyTime now) {
  for (auto& each : arrivals_.whole(now, has_room() ? kMostAtOnce : 0)) {
    if (unresolved_.contains((intake().in / each.name()).native())) arrivals_.retry(each, now + 1s);
    else if (worth_copying_ahead(each.mark().bytes)) {
      auto reading = read_beside(each.descriptor());
      digesting_.push_back({std::move(each), std::move(reading), now});
    } else digests_.add(std::move(each), now);
  }
  take_digested(digested(), now);
}

std::vector<DigestedArrival> FolderIntake::digested() {
  auto ready = digests_.go_on();
  for (auto& each : digesting_) {
    if (!each.reading->over()) continue;
    auto const& digest = each.reading->digest_there();
    ready.push_back(
        {std::move(each.arrival), digest.empty() ? Result<std::string>(Error{ErrorKind::io, each.arrival.name() + ": cannot be read"}) : digest});
    each.reading.reset();
  }
  std::erase_if(digesting_, [](Digesting const& each) { return !each.reading; });
  return ready;
}

void FolderIntake::take_digested(std::vector<DigestedArrival>&& digested, SteadyTime now) {
  std::vector<Arriving> ready;
  for (auto& [each, digest] : digested) {
    if (!digest || !each.unchanged()) {  // somebody writes to it again, or it cannot be read: the next look tells
      arrivals_.retry(each, now + 200ms);
      continue;
    }
    std::shared_ptr<CopyAhead> copy;
    if (worth_copying_ahead(each.mark().bytes)) {
      auto const* const rule = rule_for(intake(), each.file_name());
      auto const folder = custody_.goes_to_folder(*digest, rule && !rule->target.empty() ? rule->target : intake().target);
      if (!folder) {
        arrivals_.retry(each, now + 1s);
        trouble(folder.error(), now);
        continue;
      }
      copy = std::make_shared<CopyAhead>(each.descriptor(), is_on(each.mark().device, *folder) ? std::nullopt : std::optional(*folder));
      to_copy_.push_back(copy);
    }
    (copy ? arriving_ : ready).push_back({std::move(each), *digest, copy});
  }
  for (auto& each : arriving_)
    if (each.copy->over()) ready.push_back({std::move(each.arrival), std::move(each.digest), std::move(each.copy)});
  std::erase_if(arriving_, [](Arriving const& each) { return !each.copy; });
  if (!ready.empty()) take(ready, now);
}

void FolderIntake::take(std::vector<Arriving>& arrivals, SteadyTime now) {
  std::vector<MoveRequest> takings;
  std::erase_if(arrivals, [&](Arriving const& each) {
    bool const changed = !each.arrival.unchanged();
    if (changed) arrivals_.retry(each.arrival, now + 200ms);
    return changed;
  });
  for (auto const& each : arrivals) {
    auto const* const rule = rule_for(intake(), each.arrival.file_name());
    takings.push_back({&each.arrival, each.digest, rule && !rule->target.empty() ? rule->target : intake().target,
                       rule ? rule->copies.value_or(0) : 0, each.copy ? each.copy->copy_of(each.digest) : nullptr});
  }
  for (std::size_t at = 0; at < takings.size();) {
    auto const taken = custody_.take(std::vector<MoveRequest>(takings.begin() + static_cast<std::ptrdiff_t>(at), takings.end()));
    if (!taken) {
      for (; at < takings.size(); ++at) arrivals_.retry(*takings[at].arrival, now + 1s);
      return trouble(taken.error(), now);
    }
    auto const folders = folders_are_there();
    for (auto const& t : *taken) {
      auto const& arrival = *takings[at++].arrival;
      auto const& name = arrival.name();
      if (t.overtaken) {
        arrivals_.retry(arrival, now + 1s);  // until it has gone, or its lease has
      } else if (t.trouble && !folders) {
        arrivals_.retry(arrival, now);
      } else if (t.trouble) {
        place_.log->report(LogLevel::error, intake().name, name, t.trouble->message + "; it is left where it is");
        if (place_.once) lasting_ = t.trouble;
        else arrivals_.retry(arrival, now + kCannotMove);
      } else if (t.exchanged) {
        place_.log->report(LogLevel::warning, intake().name, name,
                           "something else was put under its name while it was taken; that was left in the watched folder, and is looked at again");
        arrivals_.look_again(now);
      } else if (t.entry.id == 0) {
        place_.log->report(LogLevel::info, intake().name, name, "went away before it was taken");
        arrivals_.look_again(now);
      } else if (t.entry.state == LedgerState::taken) {
        queue(t.entry, now);
      } else {
        at_rest_now(t.entry);
      }
    }
    if (!folders) {
      for (; at < takings.size(); ++at) arrivals_.retry(*takings[at].arrival, now);
      return trouble(folders.error(), now);
    }
    troubles_ = 0;
  }
}

std::shared_ptr<CopyAhead> FolderIntake::next_copy() {
  if (to_copy_.empty()) return nullptr;
  auto copy = std::move(to_copy_.front());
  to_copy_.pop_front();
  return copy;
}

Result<bool> FolderIntake::move_on(LedgerEntry& entry, LedgerState next, LedgerEvent const& event) {
  auto const& folder = next == LedgerState::held ? intake().held : intake().originals;
  if (worth_copying_ahead(entry.mark.bytes) && !is_on(entry.mark.device, folder)) {
    if (auto const source = opened(entry.place)) {
      auto const copy = std::make_shared<CopyAhead>(source.get(), folder);
      to_copy_.push_back(copy);
      in_hand_.insert(entry.id);
      moving_.push_back({entry, next, event, copy});
      return false;
    }
  }
  auto const moved = custody_.move_on(entry, next, event);
  return moved ? Result<bool>(true) : moved.error();
}

void FolderIntake::go_on_with_moves(SteadyTime now) {
  std::vector<Moving> ready;
  for (auto& each : moving_)
    if (each.copy->over()) ready.push_back(std::move(each));
  std::erase_if(moving_, [](Moving const& each) { return !each.copy; });
  for (auto& each : ready) {
    auto const moved = custody_.move_on(each.entry, each.next, each.event, each.copy->copy_of(each.entry.digest));
    in_hand_.erase(each.entry.id);
    if (!moved) {
      if (!reads_beside(each.entry, false)) trouble(moved.error(), now);
      continue;
    }
    if (each.entry.state == LedgerState::taken) queue(std::move(each.entry), now);
    else at_rest_now(each.entry);
  }
}

bool FolderIntake::resumes_beside(LedgerEntry const& entry) {
  if (entry.state != LedgerState::moving || !worth_copying_ahead(entry.mark.bytes)) return false;
  fs::path const folder = fs::path(entry.goes_to).parent_path();
  UniqueFd const source = opened(entry.place), there = opened(entry.goes_to);
  struct stat about {};
  bool const copies = source && ::fstat(source.get(), &about) == 0 && S_ISREG(about.st_mode) && !is_on(static_cast<long long>(about.st_dev), folder);
  auto const copy = std::make_shared<CopyAhead>(source.get(), copies ? std::optional(folder) : std::nullopt);
  copy->look_first_at(there.get(), entry.digest);
  to_copy_.push_back(copy);
  in_hand_.insert(entry.id);
  resuming_.push_back({entry, copy, first_look_});
  return true;
}

std::shared_ptr<CopyAhead> FolderIntake::read_beside(fs::path const& path) { return read_beside(opened(path).get()); }

std::shared_ptr<CopyAhead> FolderIntake::read_beside(int descriptor) {
  to_copy_.push_back(CopyAhead::reading(descriptor));
  return to_copy_.back();
}

bool FolderIntake::reads_beside(LedgerEntry const& entry, bool first_look) {
  auto const unread = custody_.take_unread();
  if (!unread) return false;
  in_hand_.insert(entry.id);
  resuming_.push_back({entry, read_beside(*unread), first_look, true});
  return true;
}

void FolderIntake::know(CopyAhead const& reading) {
  if (!reading.digest_there().empty()) custody_.know(reading.mark_there(), reading.digest_there());
}

void FolderIntake::clear_watched_folder() {
  if (clearing_) know(*clearing_);
  bool const in_vain = clearing_ && clearing_->digest_there().empty();
  auto const cleared = custody_.clear_watched_folder();
  auto const unread = custody_.take_unread();
  clearing_ = unread && !in_vain ? read_beside(*unread) : nullptr;
  // Whoever may put files there may put odd ones there: no reason not to begin.
  if (!cleared) place_.log->report(LogLevel::warning, intake().name, {}, cleared.error().message + "; it is left for the next start");
  else if (in_vain && unread)
    place_.log->report(LogLevel::warning, intake().name, {}, unread->string() + ": cannot be read; it is left for the next start");
}

void FolderIntake::go_on_with_resumed(SteadyTime now) {
  std::vector<Resuming> ready;
  for (auto& each : resuming_)
    if (each.copy->over()) ready.push_back(std::move(each));
  std::erase_if(resuming_, [](Resuming const& each) { return !each.copy; });
  for (auto& each : ready) {
    know(*each.copy);
    in_hand_.erase(each.entry.id);
    unresolved_.erase(each.entry.place);
    auto const entry = place_.ledger->find(each.entry.id);  // a person may have decided something about it meanwhile
    if (!entry) return trouble(entry.error(), now);
    if (!*entry) continue;
    auto const gone_on = go_on_with(**entry, now, each.first_look, each.copy->copy_of(each.entry.digest));
    if (gone_on) continue;
    unresolved_.insert(each.entry.place);
    bool const in_vain = each.only_reads && each.copy->digest_there().empty();
    if (in_vain || !reads_beside(each.entry, each.first_look)) trouble(gone_on.error(), now);
  }
}

void FolderIntake::wait_until_settled(LedgerEntry entry, SteadyTime now) {
  place_.log->entry(LogLevel::warning, "waits", entry,
                    "its bytes changed after it was taken: whoever wrote it was not done; it waits until it rests");
  in_hand_.insert(entry.id);
  unsettled_.push_back({std::move(entry), {}, now, now, nullptr});
}

void FolderIntake::look_at_unsettled(SteadyTime now) {
  for (std::size_t i = 0; i < unsettled_.size(); ++i) {
    auto& each = unsettled_[i];
    struct stat about {};
    bool there = false, written = false;
    if (auto const file = opened(each.entry.place)) {
      there = ::fstat(file.get(), &about) == 0 && S_ISREG(about.st_mode);
      written = there && writers_of(file.get()) == Writers::some;
    }
    if (there && (written || std::exchange(each.mark, mark_of(about)) != mark_of(about))) each.since = now, each.reading.reset();
    if (place_.once && !each.reading && now > each.first + 5 * std::max<std::chrono::milliseconds>(settings_.settle, 2s)) {
      place_.log->entry(LogLevel::warning, "left", each.entry, "is still being written; it is left for the next run");
      in_hand_.erase(each.entry.id);
      ++tally_.held;
      unsettled_.erase(unsettled_.begin() + static_cast<std::ptrdiff_t>(i--));
      continue;
    }
    if ((there && now < each.since + settings_.settle) || (each.reading && !each.reading->over())) continue;
    bool const in_vain = each.reading && each.reading->digest_there().empty();
    if (each.reading) know(*each.reading);
    auto const found = custody_.look_at_original(each.entry);
    auto const unread = found ? std::nullopt : custody_.take_unread();
    if (unread && !in_vain) {
      each.reading = read_beside(*unread);
      continue;
    }
    auto entry = std::move(each.entry);
    unsettled_.erase(unsettled_.begin() + static_cast<std::ptrdiff_t>(i--));
    in_hand_.erase(entry.id);
    auto const settled = found ? take_as_settled(entry, *found, now) : Outcome(found.error());
    if (!settled) return trouble(settled.error(), now);
  }
}

Outcome FolderIntake::take_as_settled(LedgerEntry& entry, OriginalLook const& found, SteadyTime now) {
  if (found.now == OriginalNow::rewritten && !arrives(entry)) return give_up_original(entry, OriginalNow::replaced);
  if (found.now == OriginalNow::gone || found.now == OriginalNow::replaced) return give_up_original(entry, found.now);
  bool const other_bytes = found.now == OriginalNow::rewritten;
  entry.digest = found.digest;
  entry.mark = found.mark;
  entry.changed = now_ms();
  auto const same = other_bytes ? place_.ledger->find_same(entry.digest, entry.intake, entry.target, entry.id) : std::optional<LedgerEntry>();
  if (!same) return same.error();
  auto const written = place_.ledger->change([&](LedgerChange& change) {
    change.update(entry);
    if (other_bytes) change.report({entry.id, entry.changed, "watch", "bytes changed", "whoever wrote it was not done when it was taken"});
  });
  if (!written) return written;
  if (*same && settings_.duplicates == Duplicates::hold && entry.decision.empty())
    return hold(entry, "the same bytes came as job " + std::to_string((*same)->id) + " (" + (*same)->name + ")");
  queue(entry, now);
  return done();
}

}  // namespace layright
