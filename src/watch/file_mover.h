// Where originals lie and how they get there. Whatever moves is written down first; whatever was broken off is gone on with by looking at
// the ledger and at the folders, so that a start after a death does the same as what would have come next.
#pragma once
#include <deque>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "sheet/gang_order.h"
#include "watch/arrivals.h"
#include "watch/free_name.h"
#include "watch/ledger.h"
#include "write/output_file.h"

namespace layright {

/// What is known of a whole file before it is taken.
struct MoveRequest {
  Arrival const* arrival = nullptr;
  std::string digest;
  std::string target;
  int copies = 0;
  OutputFile* copy = nullptr;  // of its bytes, where it goes to another disk (goes_to_folder)
};

/// What became of one of them.
struct MoveResult {
  LedgerEntry entry;             // at rest, or taken; id 0: somebody else took it away, or it stayed where it was
  std::optional<Error> trouble;  // it could not be moved: it lies where it lay, and the ledger knows nothing of it
  bool overtaken = false;        // another desk takes it
  bool exchanged = false;        // somebody put something else under its name while it was moved; that lies in the watched folder
};

/// What lies where an original should.
enum class OriginalNow {
  itself,
  rewritten,  // the same file, with other bytes: whoever wrote it was not done
  replaced,   // another file, put in its place
  gone,       // nothing, or what is no file, such as a link
};

struct OriginalLook {
  OriginalNow now = OriginalNow::gone;
  std::string digest;  // of what lies there; empty where nothing does
  FileMark mark;
};

/// A finished output that has no name yet.
struct FreshOutput {
  std::string kind;    // pdf, sheet
  std::string ending;  // .pdf, .job.pdf
  OutputFile* file = nullptr;
  int pages = 0, copies = 0;
  std::string digest = {};  // empty: nobody has read it yet
  TonerOfFile toner = {};
};

/// The outputs of a laid entry, which are to get their names.
struct LaidOutputs {
  LedgerEntry entry;
  std::vector<FreshOutput> fresh;  // written and proved
  std::string stem;
  Outcome end = done();
  bool overtaken = false;  // of an end that is none: another desk goes on with it
  std::vector<LedgerOutput> outputs = {};
};

class FileMover {
 public:
  /// `more_words`: see held_text.
  FileMover(Ledger& ledger, Intake const& intake, std::string more_words) : ledger_(&ledger), intake_(intake), more_words_(std::move(more_words)) {}
  Intake const& intake() const { return intake_; }

  /// Moves whole files to the originals, or to the held or the originals at once where the same bytes are known (by the intake's
  /// `duplicates`). Tells in the order of `takings`, and perhaps not for all of them: call again for the rest. An error: nothing is lost; the
  /// ledger knows what was begun (resume).
  Result<std::vector<MoveResult>> take(std::vector<MoveRequest> const& takings);

  /// Begins and ends a move of an entry that is at rest or taken: to the held (with its notes), back to the originals. `copy`: see MoveRequest.
  /// What lies in its place and is not it is never moved along: a file that was put there comes as a new arrival and the entry is discarded;
  /// where there is none the entry is missing. Its reason tells.
  Outcome move_on(LedgerEntry& entry, LedgerState next, LedgerEvent const& event, OutputFile* copy = nullptr);

  /// Whether its original is still what the ledger says. The whole file is read only where it may be another one.
  Result<OriginalLook> look_at_original(LedgerEntry const& entry);
  /// Of an entry whose original is replaced or gone: discarded or missing, with its reason; a file in its place becomes a new arrival.
  Outcome give_up_original(LedgerEntry& entry, OriginalNow found);
  /// After a death: what was taken out of sight in the watched folder to be removed there, because its copy is safe, is removed; what is none of
  /// that gets a name again. An error: of the last that could not be; the others were. Large ones are left where they must be read first (take_unread): call again then.
  Outcome clear_watched_folder();
  /// Where an arrival of these bytes goes: to the originals, or at once to the held.
  Result<std::filesystem::path> goes_to_folder(std::string const& digest, std::string const& target) const;

  /// Makes a job of pieces that wait: written down with its members first, then its order is put among the originals. Error try_again: what waits has
  /// changed meanwhile. `order`: what it says beside its pieces.
  Result<LedgerEntry> begin_batch(std::vector<LedgerEntry> members, GangOrder order);
  /// Within a change that writes a batch: its pieces are ready with it; of one that is given up they wait again.
  void settle_members(LedgerChange& change, LedgerEntry const& batch) const;

  /// Gives the outputs of laid entries their names, and makes the entries ready. Each ends for itself: its `end` tells.
  void place(std::vector<LaidOutputs>& all);

  /// Goes on with what was broken off: an entry that is moving or placing. Afterwards it is at rest, or taken (also when its outputs must be
  /// made again), or its id is 0 where nothing had been taken yet. `copy`: see MoveRequest.
  Outcome resume(LedgerEntry& entry, OutputFile* copy = nullptr);
  /// Large files are read elsewhere, beside all else. Whatever meets one that nobody has read ends with an error, and here is which it is, once;
  /// nothing is lost, and it is done again when that one is known.
  std::optional<std::filesystem::path> take_unread() { return std::exchange(unread_, std::nullopt); }
  /// What is found with this mark has that digest.
  void know(FileMark const& mark, std::string const& digest);

 private:
  /// Of a batch that is moving from nowhere; also after a death.
  Outcome write_order(LedgerEntry& batch);
  /// Whether a move that failed may be taken back: nothing has got to its end.
  bool nothing_moved(LedgerEntry const& entry) const;
  LedgerEntry begun(MoveRequest const& taking, std::optional<LedgerEntry> const& same) const;
  /// The beginning of take(), in one transaction. Throws ChangeGivenUp.
  void begin_all(std::vector<MoveRequest> const& takings, std::vector<MoveResult>& taken, LedgerChange& change) const;
  Outcome sync_moved(std::vector<MoveRequest> const& takings, std::vector<MoveResult> const& taken) const;
  std::filesystem::path const& folder_to(LedgerEntry const& entry) const {
    return entry.next == LedgerState::held ? intake_.held : intake_.originals;
  }
  /// The name that it gets unless that is taken, as all desks call it.
  std::string name_there(LedgerEntry const& entry) const;
  Outcome choose_place(LedgerEntry& entry, Promised& promised, NamesAsked const& asked = {}) const;
  /// Brings the original where it goes; sets state, place, or id 0. Writes nothing to the ledger but another name.
  /// `syncs_folders`: as FileMeant's.
  Outcome carry(LedgerEntry& entry, OutputFile* copy, bool syncs_folders = true);
  Outcome carry_from_here(LedgerEntry& entry, bool resumed, OutputFile* copy, bool syncs_folders = true);
  /// Nothing had been taken yet: the arrival is none.
  void take_nothing(LedgerEntry& entry) const;
  /// After a death: what was moved there in the place of an arrival goes back.
  Outcome give_back_stranger(LedgerEntry const& entry, OpenFolder const& lies_in) const;
  Outcome write_notes(LedgerEntry const& entry) const;
  Outcome remove_notes(std::string const& place) const;
  Outcome remove_source(LedgerEntry const& entry);
  /// digest_at, without reading what is known, or what is large.
  Result<std::string> digest_here(OpenFolder const& folder, std::string const& name, FileMark* mark = nullptr);
  Outcome finish_placing(LedgerEntry& entry, std::vector<LedgerOutput> outputs);
  bool came_from_outside(LedgerEntry const& entry) const;
  /// Of outputs that got their names when another desk had the entry already: only what no row of the ledger tells of goes again.
  void take_back(LaidOutputs const& placement);
  using Placements = std::vector<LaidOutputs*>;
  /// In one transaction; where another desk has one of them, each in one of its own. Those that it ended well for.
  Placements change_all(Placements const& all, std::function<void(LedgerChange&, Placements const&)> const& write);
  Outcome name_outputs(LaidOutputs& placement) const;
  Placements begin_placing(Placements const& all);
  void give_names(Placements const& all) const;

  Ledger* ledger_;
  Intake intake_;
  std::string more_words_;
  std::deque<std::pair<FileMark, std::string>> known_;  // the latest few
  std::optional<std::filesystem::path> unread_;
};

/// Opens the folder that a path lies in: below `root` no link is followed.
Result<OpenFolder> folder_for(std::filesystem::path const& root, std::filesystem::path const& path);

/// SHA-256 of the file of that name, or nothing where there is none (a link is none). Errors: io.
Result<std::string> digest_at(OpenFolder const& folder, std::string const& name, FileMark* mark = nullptr);

}  // namespace layright
