// The intake's memory, which knows every arrival, where its original lies, what was made of it and why. It is kept in a Database.
#pragma once
#include <chrono>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/result.h"

namespace layright {

class Database;

/// Where an arrival stands.
enum class LedgerState {
  moving,     // its original is on its way: written down before anything moves, so that a start after a death goes on
  taken,      // its original is safe; it waits to be laid, or is being laid
  waiting,    // it can be laid, and waits for others to share a sheet with; or its sheet is being made (see batch)
  placing,    // outputs are made and get their names
  ready,      // laid; its original is among the originals
  held,       // a person must decide; its original is among the held
  discarded,  // a person decided against it
  skipped,    // the same bytes were known, and the intake skips those
  missing,    // its original is gone: somebody took it away
};
std::string_view word(LedgerState);
std::optional<LedgerState> parse_ledger_state(std::string_view);

/// What tells one file on a disk from another that comes under its name.
struct FileMark {
  long long device = 0, inode = 0, bytes = 0, modified_ns = 0;
  bool operator==(FileMark const&) const = default;
};

/// One arrival. Paths and names are any bytes; times are milliseconds since 1970 UTC.
struct LedgerEntry {
  long long id = 0;
  std::string intake;
  std::string name;    // as it came, below the watched folder
  std::string digest;  // SHA-256 of its bytes, hexadecimal
  FileMark mark;       // of the file as it arrived
  long long arrived = 0, changed = 0;
  LedgerState state = LedgerState::moving;
  LedgerState next = LedgerState::taken;  // for moving: what it is when it has got there
  std::string place, goes_to;             // where its original lies; for moving, where it goes
  std::string target;
  int copies = 0;             // 0: as the target says
  int run = 0;                // how often it has been laid
  int tries = 0;              // of the laying in hand
  int interrupted = 0;        // how often the watcher ended while it had this arrival in hand
  std::string verdict;        // of the last check: ready, fix, hold
  std::string reason;         // why it is held, in plain words
  std::string findings;       // of the last check, as a JSON list
  long long same_as = 0;      // the arrival that brought the same bytes first
  std::string decision;       // what a person wants done that is not done yet (watch/decision.h), as JSON; empty: nothing
  std::string send;           // empty: not asked for; wanted, sending, sent, refused, film missing, film spoiled
  std::string send_name;      // what the press calls the job, unique to this sending
  std::string send_reported;  // what the press said last
  int press_job = 0;
  std::string render;       // graphics or pictures: what the laid art is, for the press's rendering intent
  long long batch = 0;      // the job on whose sheets it lies; such a job names itself; 0: none
  std::string gang;         // of one that waits, or waited: what is known of its pieces (watch/gang_piece.h); of a batch: its order
  std::string owner;        // the desk that had it last, where several share the ledger
  long long token = 0;      // how often it went from one to another: what an older one writes is refused
  bool taken_over = false;  // by this look into the ledger, from a desk that did not go on with it (not kept)

  /// Made here of pieces that waited; its original is its order.
  bool is_batch() const { return batch > 0 && batch == id; }
};

/// What the toner of a file costs, as its checks estimate it.
struct TonerOfFile {
  long long millionths = -1;  // of the press's currency; below 0: nobody knows
  std::string currency = {};
};

/// A file that was made of an arrival.
struct LedgerOutput {
  long long id = 0, entry = 0;
  int run = 0;
  std::string kind;  // pdf, sheet
  std::string path, digest;
  long long bytes = 0;
  bool there = false;  // false: about to get its name
  long long made = 0;
  int pages = 0, copies = 0;  // for pdf: what it takes to print it
  TonerOfFile toner = {};     // for pdf: of one copy
};

/// Something that happened to an arrival.
struct LedgerEvent {
  long long entry = 0, at = 0;
  std::string who, what, why;
};

/// Film used, spoiled and planned on a day (of the shop's own time) for a target. Used is what the press has put out by its own word, or what is
/// ready where nobody sends it; until then it is planned.
struct SheetsRow {
  std::string day, target;
  long long used = 0, planned = 0, spoiled = 0;
  std::string why;                // of the spoiled: each reason once
  TonerOfFile toner = {0, {}};    // of the used, where it is known
  long long toner_not_known = 0;  // used sheets of which nobody knows it
};

struct LedgerFilter {
  std::optional<LedgerState> state;
  std::string day;   // YYYY-MM-DD, of the shop's own time (TZ); empty: any
  std::string name;  // a shell pattern over the name, or a part of it
  std::string intake;
  long long changed_since = 0;  // milliseconds since 1970 UTC; 0: whenever
  bool newest_first = false;    // by when they changed; else the oldest first
  int from = 0, most = -1;      // a part of the list; -1: all
};

/// A path that the ledger knows.
struct KnownName {
  std::string path;
  bool coming = false;  // not there yet, but promised
};

/// Thrown by the work of a change: undoes it, and this is the error that is told.
struct ChangeGivenUp {
  Error error;
};

/// What kept a change from being made that is nobody's fault: another desk was faster.
enum class Overtaken { no, lease, name };

/// Writes of one transaction. Throws what only Ledger::change catches.
class LedgerChange {
 public:
  virtual ~LedgerChange() = default;
  /// Sets the id of each. Of each kind there is one call for several: a server is asked once.
  virtual void add_all(std::vector<LedgerEntry*> const& entries) = 0;
  virtual void update_all(std::vector<LedgerEntry const*> const& entries) = 0;
  void add(LedgerEntry& entry) { add_all({&entry}); }
  void update(LedgerEntry const& entry) { update_all({&entry}); }
  virtual void remove(LedgerEntry const& entry) = 0;
  virtual void add_all(std::vector<LedgerOutput*> const& outputs) = 0;
  virtual void update_all(std::vector<LedgerOutput const*> const& outputs) = 0;
  void add(LedgerOutput& output) { add_all({&output}); }
  void update(LedgerOutput const& output) { update_all({&output}); }
  virtual void remove(LedgerOutput const& output) = 0;
  virtual void report_all(std::vector<LedgerEvent> const& events) = 0;
  void report(LedgerEvent const& event) { report_all({event}); }
  /// Until the end of the change no other desk chooses names, or looks whether bytes are known, that are called so here.
  virtual void choose_alone(std::vector<std::string> const& what) = 0;
  virtual void spoil(long long entry, long long at, std::string const& who, int sheets, std::string const& why) = 0;
};

class Ledger {
 public:
  /// Errors: no_input when there is none and `create` is false; data when it is damaged, no ledger, or of a newer version (nothing is
  /// changed then); try_again when another program holds it for long; io.
  static Result<Ledger> open(std::filesystem::path const& path, bool create);
  Ledger(Ledger&&) noexcept;
  Ledger& operator=(Ledger&&) noexcept;
  ~Ledger();

  std::filesystem::path const& path() const { return path_; }

  /// All of it or nothing, on the disk when this returns.
  Outcome change(std::function<void(LedgerChange&)> const& work);

  Result<std::optional<LedgerEntry>> find(long long id) const;
  /// The oldest arrival of these bytes for this intake and target, other than `but`.
  Result<std::optional<LedgerEntry>> find_same(std::string const& digest, std::string const& intake, std::string const& target, long long but) const;
  /// The same for several arrivals, in their order: digest and target of each.
  Result<std::vector<std::optional<LedgerEntry>>> find_same(std::vector<std::pair<std::string, std::string>> const& arrivals,
                                                            std::string const& intake) const;
  /// Whether these bytes ever arrived, at any intake.
  Result<bool> knows(std::string const& digest) const;
  /// Arrivals that are not at rest, or with a decision or a sending to do, oldest first.
  Result<std::vector<LedgerEntry>> unfinished() const;
  /// What of this intake waits for a sheet that nobody makes yet, oldest first.
  Result<std::vector<LedgerEntry>> waiting(std::string const& intake) const;
  /// Whose sheets that batch is, oldest first.
  Result<std::vector<LedgerEntry>> members_of(long long batch) const;
  Result<std::vector<LedgerOutput>> outputs_of(long long entry) const;
  Result<std::vector<LedgerEvent>> events_of(long long entry) const;
  /// Tells each that passes the filter, oldest first; nothing is kept. `each` must not change the ledger.
  Outcome list(LedgerFilter const& filter, std::function<void(LedgerEntry const&)> const& each) const;
  /// How many pass the filter, whatever part of the list it asks for.
  Result<long long> count(LedgerFilter filter) const;
  Result<std::vector<SheetsRow>> sheets() const;
  /// Arrivals at rest among the originals since before `before`, for keep-originals.
  Result<std::vector<LedgerEntry>> originals_before(std::string const& intake, long long before) const;
  /// What the ledger has put, or is about to put, into `folder` under that name, as a reader sees it who takes capitals and the ways of
  /// writing one letter for the same.
  Result<std::vector<KnownName>> names_like(std::filesystem::path const& folder, std::string const& name) const;
  /// The same for several paths, in their order.
  Result<std::vector<std::vector<KnownName>>> names_like(std::vector<std::filesystem::path> const& paths) const;
  /// Whether something is on its way out of each of these places.
  Result<std::vector<bool>> moves_from(std::vector<std::filesystem::path> const& places) const;
  /// Whether an output of that path and digest is known, of whatever entry.
  Result<bool> tells_of(LedgerOutput const& output) const;
  /// What the database finds wrong with what it is kept in; empty when nothing.
  Result<std::vector<std::string>> damage() const;
  /// Puts the mark of the watcher that has it now into the ledger's own file.
  Outcome mark_watcher(std::string const& mark);
  /// Whether several desks may share it. Then each has what it works on under a lease, for so long after the last renew(); what another has is not
  /// changed: change() ends with an error, and overtaken() tells.
  bool is_shared() const;
  Outcome work_as_desk(std::chrono::milliseconds lease);
  Outcome renew();
  /// Of the last change that failed; asked once.
  Overtaken overtaken() { return std::exchange(overtaken_, Overtaken::no); }
  /// Whether it is still this desk's.
  Result<bool> has(LedgerEntry const& entry) const;
  std::string const& desk() const { return desk_; }  // its name among those that share the ledger; empty: the only one
  bool is_mine(LedgerEntry const& entry) const { return entry.owner == desk_; }
  /// What of this intake is unfinished, as unfinished(). Of a shared ledger: what this desk has, after it took a few that nobody has.
  Result<std::vector<LedgerEntry>> take_unfinished(std::string const& intake, bool sendings);
  /// Whether something waits that take_unfinished() would take.
  Result<bool> work_waits(std::string const& intake, bool sendings) const;
  /// Others may have it at once.
  Outcome let_go(LedgerEntry const& entry);
  /// Those that work with a shared ledger.
  Result<std::vector<std::string>> desks() const;

  /// Gives it up without touching its file, or what lies beside it: both may be another's now. Only for a program that is about to end.
  void abandon();
  /// A number that changes when another connection has written.
  Result<long long> version_of_data() const;

 private:
  Ledger(std::filesystem::path path, std::unique_ptr<Database> database);

  void take_few(std::string const& intake, bool sendings, std::vector<long long>& taken);

  std::filesystem::path path_;
  std::unique_ptr<Database> database_;
  std::string desk_;  // this one, among those that share the ledger
  std::chrono::milliseconds lease_{};
  Overtaken overtaken_ = Overtaken::no;
};

}  // namespace layright
