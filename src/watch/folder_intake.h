// One watched folder at work: takes what is whole, hands out what is to be laid, and puts away what came of it.
#pragma once
#include <deque>
#include <map>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "watch/arrival_job.h"
#include "watch/arrivals.h"
#include "watch/copy_ahead.h"
#include "watch/digest_queue.h"
#include "watch/file_mover.h"
#include "watch/send_job.h"
#include "watch/watch_log.h"

namespace layright {

/// What a desk has to do with the rest of the run.
struct IntakePlace {
  std::shared_ptr<Configuration const> configuration;
  Ledger* ledger = nullptr;
  WatchLog const* log = nullptr;
  bool once = false;     // this run ends: troubles are not waited out for long
  bool arrivals = true;  // false: only what persons have decided is done
};

/// What a run of one intake came to so far.
struct IntakeTally {
  long long ready = 0, held = 0, skipped = 0, discarded = 0, not_sent = 0;  // not_sent: nor with another number of sheets than was asked for
};

class FolderIntake {
 public:
  FolderIntake(Intake const& intake, IntakePlace place);

  /// Makes folders that are missing. Errors: cannot_create.
  Outcome prepare();
  int descriptor() const { return place_.arrivals ? arrivals_.descriptor() : -1; }
  void take_events(SteadyTime now) { arrivals_.take_events(now); }
  /// Looks, goes on with what was broken off, does what persons decided, takes what is whole.
  void tend(SteadyTime now);
  /// Something may have been decided: look into the ledger.
  void ledger_changed() { look_into_ledger_ = look_at_waiting_ = true; }
  /// Looks whether other desks left something that this one may go on with.
  void look_for_work(SteadyTime now);
  SteadyTime next(SteadyTime now) const;

  /// When the most urgent of what waits is due: small files and early ones first. Nothing: none waits.
  std::optional<SteadyTime> urgent() const;
  /// The most urgent one. Requires urgent(), or heavy_waits().
  std::shared_ptr<ArrivalJob> next_job();
  /// What was begun once and took so long that it was broken off for others waits until none of those does.
  bool heavy_waits() const;
  void broken_off(ArrivalJob const& job, SteadyTime now);
  /// Looks at what a job came to. What it laid gets its place by put_away(), until when the job must live.
  void finished(ArrivalJob& job, SteadyTime now);
  /// Puts away what the jobs have laid that are finished.
  void put_away(SteadyTime now);

  /// A copy to another disk that is to be made beside all else; null when there is none.
  std::shared_ptr<CopyAhead> next_copy();

  /// A sending that is due, written down as begun; null when there is none. One at a time.
  std::shared_ptr<SendJob> next_sending(SteadyTime now);
  void sent(SendJob& job, SteadyTime now);

  /// Nothing waits, nothing is in hand, nothing will come of itself: for a run that ends.
  bool at_rest(SteadyTime now);
  std::size_t queue_length() const { return arrivals_.waiting() + digests_.size() + digesting_.size() + arriving_.size() + in_hand_.size(); }
  std::optional<SteadyTime> oldest() const;
  IntakeTally const& tally() const { return tally_; }
  std::size_t left_lying() const { return arrivals_.left_lying(); }
  /// A trouble that did not pass within the run.
  std::optional<Error> const& lasting_trouble() const { return lasting_; }
  Intake const& intake() const { return custody_.intake(); }
  Ledger& ledger() const { return *place_.ledger; }

 private:
  struct Waiting {
    LedgerEntry entry;
    SteadyTime since, due;
    bool heavy = false;
  };
  /// A large arrival whose digest is taken beside all else.
  struct Digesting {
    Arrival arrival;
    std::shared_ptr<CopyAhead> reading;
    SteadyTime since;
  };
  /// An arrival whose bytes are on their way to another disk, or to the disk at all.
  struct Arriving {
    Arrival arrival;
    std::string digest;
    std::shared_ptr<CopyAhead> copy;
  };
  /// A move to another disk that goes on when its copy is there.
  struct Moving {
    LedgerEntry entry;
    LedgerState next;
    LedgerEvent event;
    std::shared_ptr<CopyAhead> copy;
  };
  /// A move that a death broke off, whose file is large: it is looked for, and copied where it must be, beside all else.
  struct Resuming {
    LedgerEntry entry;
    std::shared_ptr<CopyAhead> copy;
    bool first_look;
    bool only_reads = false;  // a file without which it cannot be gone on with
  };
  /// An entry whose original was written to after it was taken.
  struct Unsettled {
    LedgerEntry entry;
    FileMark mark;
    SteadyTime since, first;
    std::shared_ptr<CopyAhead> reading;  // of a large one, once it rests
  };
  static bool before(Waiting const& a, Waiting const& b);
  void take_whole(SteadyTime now);
  std::vector<DigestedArrival> digested();
  void take_digested(std::vector<DigestedArrival>&& digested, SteadyTime now);
  /// Takes arrivals whose bytes are where they go.
  void take(std::vector<Arriving>& arrivals, SteadyTime now);
  /// custody's move_on; a large file that goes to another disk is copied beside all else first. Whether it is done already.
  Result<bool> move_on(LedgerEntry& entry, LedgerState next, LedgerEvent const& event);
  void go_on_with_moves(SteadyTime now);
  /// Whether going on with it takes so long that it was begun beside all else.
  bool resumes_beside(LedgerEntry const& entry);
  /// After an error of custody's: whether only a large file must be read before the entry is gone on with. That was begun beside all else.
  bool reads_beside(LedgerEntry const& entry, bool first_look);
  /// Begins to read a large file beside all else.
  std::shared_ptr<CopyAhead> read_beside(std::filesystem::path const& path);
  std::shared_ptr<CopyAhead> read_beside(int descriptor);
  void know(CopyAhead const& reading);
  void go_on_with_resumed(SteadyTime now);
  /// Back to waiting, until it rests: its digest is then that of what it has become.
  void wait_until_settled(LedgerEntry entry, SteadyTime now);
  void look_at_unsettled(SteadyTime now);
  Outcome take_as_settled(LedgerEntry& entry, OriginalLook const& found, SteadyTime now);
  /// See custody's; what lies there for the next start is named.
  void clear_watched_folder();
  bool has_room() const;  // for another arrival
  /// Where its files go. A missing one is no trouble of a file, and may come back soon: a share, a disk.
  Outcome folders_are_there() const;
  void go_on_with_ledger(SteadyTime now);
  /// `first_look`: the watcher has just begun.
  Outcome go_on_with(LedgerEntry entry, SteadyTime now, bool first_look, OutputFile* copy = nullptr);
  Outcome do_decision(LedgerEntry& entry);
  void queue(LedgerEntry entry, SteadyTime now);
  void at_rest_now(LedgerEntry const& entry);
  Outcome hold(LedgerEntry& entry, std::string const& reason);
  Result<std::shared_ptr<SendJob>> begin_sending(long long id);
  void leave_sendings_to_others();
  Outcome settle(ArrivalJob& job, LedgerEntry& entry, SteadyTime now);
  Outcome place_later(ArrivalJob& job, LedgerEntry& entry, SteadyTime now);
  /// Whether it waits for others to share a sheet with.
  bool gangs(LedgerEntry const& entry) const;
  Outcome wait_for_others(ArrivalJob const& job, LedgerEntry& entry);
  /// Makes batches of what waits, where that is due.
  void gang_what_waits(SteadyTime now);
  Outcome order_of_batch(ArrivalOptions& options) const;
  Outcome take_apart(ArrivalJob const& job, LedgerEntry& batch);
  void hold_by_itself(LedgerChange& change, LedgerEntry& member, std::string const& why) const;
  /// Of a batch that a person has decided against.
  Outcome hold_members(LedgerEntry const& batch, std::string const& why);
  /// Only then may a writer that nobody saw not be done. Later, other bytes are another file, also under the number of the one that was taken out.
  static bool arrives(LedgerEntry const& entry);
  Outcome give_up_original(LedgerEntry& entry, OriginalNow found);
  void remove_old_originals(SteadyTime now);
  bool may_send(SteadyTime now) const { return !send_after_ || now >= *send_after_; }
  /// `overtaken`: another desk was faster, which is no trouble.
  void trouble(Error const& error, SteadyTime now, bool overtaken);
  void trouble(Error const& error, SteadyTime now) { trouble(error, now, place_.ledger->overtaken() != Overtaken::no); }
  void ended(LedgerEntry const& entry, Outcome const& how, bool overtaken, SteadyTime now);
  Result<std::shared_ptr<InspectOptions const>> options_for(LedgerEntry const& entry) const;
  /// What its outputs will be called: the job sheet tells it before they have their names. Empty where that cannot be known.
  std::string promised_stem(LedgerEntry const& entry, bool plate_apart);
  std::vector<std::string> output_endings(bool plate_apart) const;

  static constexpr int kTroublesInOneRun = 4;  // for a run that ends
  IntakePlace place_;
  IntakeSettings settings_;
  FileMover custody_;
  Arrivals arrivals_;
  DigestQueue digests_;  // of arrivals that are whole
  std::vector<Digesting> digesting_;
  std::vector<Arriving> arriving_;
  std::vector<Moving> moving_;
  std::vector<Resuming> resuming_;
  std::vector<Unsettled> unsettled_;
  std::vector<LaidOutputs> placing_;     // laid, and not put away yet
  std::shared_ptr<CopyAhead> clearing_;  // reads what a death left in the watched folder
  std::deque<std::shared_ptr<CopyAhead>> to_copy_;
  std::vector<Waiting> waiting_;
  std::set<long long> in_hand_;             // entries that wait here or are being laid
  std::map<long long, Promised> promised_;  // by entry that is being laid: the names of its outputs
  std::set<std::string> unresolved_;        // places of arrivals that the ledger has begun to move and could not
  bool look_into_ledger_ = true, first_look_ = true;
  bool more_in_ledger_ = false;    // perhaps, of what other desks left
  std::deque<long long> to_send_;  // entries, oldest first
  bool sending_ = false;
  std::optional<SteadyTime> send_after_;  // the press could not be reached
  std::optional<SteadyTime> pause_until_;
  int troubles_ = 0;
  std::optional<Error> lasting_;
  std::optional<SteadyTime> originals_due_;
  bool look_at_waiting_ = true;
  std::optional<SteadyTime> gang_due_;
  IntakeTally tally_;
};

}  // namespace layright
