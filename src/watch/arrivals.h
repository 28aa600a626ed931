// What lies in a watched folder, and when a file there is whole. Told by inotify, and by looking where that tells nothing.
#pragma once
#include <chrono>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/unique_fd.h"
#include "watch/intake_settings.h"
#include "watch/ledger.h"
#include "write/move_file.h"

struct stat;

namespace layright {

using SteadyTime = std::chrono::steady_clock::time_point;

FileMark mark_of(struct stat const& about);

/// A whole file, open for reading, with the folder that it lies in.
class Arrival {
 public:
  Arrival(std::string name, OpenFolder folder, UniqueFd descriptor, FileMark mark);

  std::string const& name() const { return name_; }  // below the watched folder, any bytes
  std::string file_name() const;
  OpenFolder const& folder() const { return folder_; }
  int descriptor() const { return descriptor_.get(); }
  FileMark const& mark() const { return mark_; }
  /// Nothing has changed it since it was found whole, and nobody has it open for writing.
  bool unchanged() const;

 private:
  std::string name_;
  OpenFolder folder_;
  UniqueFd descriptor_;
  FileMark mark_;
};

/// Something to tell about a name in the folder that is no arrival: a link, an empty file, a folder that is gone.
using ReportName = std::function<void(std::string const& name, std::string const& what)>;

class Arrivals {
 public:
  Arrivals(std::filesystem::path in, IntakeSettings settings, ReportName report);

  /// Becomes readable when the system has something to tell; -1 where it does not tell.
  int descriptor() const { return notify_.get(); }
  void take_events(SteadyTime now);
  /// Looks at everything, where that is due.
  void look(SteadyTime now);
  /// Of the desks that see the same folder, `desk` is this one, and those are all. Each begins with files of its own, and comes to the others' later.
  void share_with(std::string const& desk, std::vector<std::string> desks);
  /// Looks at everything at the next look().
  void look_again(SteadyTime now) { next_look_ = now; }
  /// When there is something to do again although the system tells nothing.
  SteadyTime next(SteadyTime now) const;
  /// Up to `most` files that are whole now; each is forgotten here, and found again if it still lies there at the next look.
  std::vector<Arrival> whole(SteadyTime now, std::size_t most);
  /// Come back to it later, or when it changes: taking it did not succeed.
  void retry(Arrival const& arrival, SteadyTime when);

  /// Files that are not whole yet, or not taken yet.
  std::size_t waiting() const { return candidates_.size(); }
  /// Since when the oldest of them waits.
  std::optional<SteadyTime> oldest() const;
  /// Names that lie there and are no arrivals, but that somebody must look at.
  std::size_t left_lying() const { return odd_.size(); }
  /// Gives up files that somebody still writes to: for a run that ends.
  void give_up_unfinished(SteadyTime now);

 private:
  struct Candidate {
    FileMark mark;
    SteadyTime first, changed, due;
    unsigned seen = 0;  // the look that saw it last
    bool open = false;  // somebody has written to it, and the system has not said yet that a writer has closed it
  };
  struct Folder {
    std::string name;  // below the watched folder; empty: itself
  };

  void reset_notices();
  bool open_root();
  void look_at_folder(OpenFolder const& folder, std::string const& name, int depth, SteadyTime now);
  void look_at_name(OpenFolder const& folder, std::string const& whole_name, SteadyTime now);
  void watch(OpenFolder const& folder, std::string const& name);
  void event(std::uint32_t mask, int watch, std::string const& name, SteadyTime now);
  void forget(std::string const& name);
  void set_due(std::string const& name, Candidate& candidate, SteadyTime when);
  /// When it is this desk's turn for a file that has changed now.
  SteadyTime turn(std::string const& name, SteadyTime now) const;
  void report_once(std::string const& name, std::string const& what, bool odd);
  std::optional<OpenFolder> folder_of(std::string const& name) const;
  /// The arrival, or when to look again.
  std::optional<Arrival> try_take(std::string const& name, Candidate& candidate, SteadyTime now);

  std::filesystem::path in_;
  IntakeSettings settings_;
  ReportName report_;
  std::optional<OpenFolder> root_;
  FileMark root_mark_;
  UniqueFd notify_;
  bool notices_work_ = false, root_gone_ = false, reported_of_writers_ = false;
  std::string desk_;
  std::vector<std::string> others_;
  std::map<int, Folder> watched_;
  std::map<std::string, Candidate> candidates_;
  std::set<std::pair<SteadyTime, std::string>> due_;
  std::map<std::string, std::string> reported_;
  std::set<std::string> odd_;
  std::optional<SteadyTime> next_look_;
  unsigned looks_ = 0;
};

}  // namespace layright
