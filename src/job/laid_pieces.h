// The files of an order, each laid alone: checked, placed, written and proved as `lay` does it, without a name.
#pragma once
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "isolate/job_chain.h"
#include "job/gang_job.h"
#include "job/gang_layout.h"
#include "report/report.h"
#include "sheet/gang_order.h"

namespace layright {

/// A file that is laid once, however often it is ordered, and what became of it.
struct LaidKind {
  OrderedPiece piece;
  PieceTurns turns = PieceTurns::quarter;
  FileHead head;
  std::vector<PageSummary> pages;
  FileTail tail;
  bool ready = false;
  std::optional<ErrorKind> trouble;  // why it is not, where no finding holds it
  int deaths = 0;                    // of children that worked on it
  std::shared_ptr<KeptFile const> laid;
  std::vector<std::shared_ptr<InkShape const>> shapes;  // of each page, for Cuts::shape
};

class LaidPieces {
 public:
  /// `beside`: the output: what is laid lies beside it without a name.
  LaidPieces(GangOrder order, InspectOptions options, GangOptions const& ganged, std::filesystem::path beside);
  ~LaidPieces();
  LaidPieces(LaidPieces const&) = delete;
  LaidPieces& operator=(LaidPieces const&) = delete;

  /// What of the order cannot be meant (usage).
  Outcome check() const;
  /// The job of the next file; nothing after the last. They may run side by side.
  std::shared_ptr<Job> next();

  /// Requires all jobs to be over, here and below.
  std::vector<LaidKind const*> kinds() const;
  /// Of the order's piece, from 0.
  LaidKind const& kind_of(std::size_t piece) const;
  bool all_ready() const;
  /// Requires all_ready().
  std::vector<WantedPage> wanted_pages() const;
  std::vector<KeptLaidFile> take_files();

  void tell(Report& report) const;
  /// What `lay --format json` tells of the files.
  std::string json(Target const& target) const;
  /// Checks whose holds would have to be accepted, with commas between; empty where that alone would not do.
  std::string would_be_accepted() const;

 private:
  class Laying;
  GangOrder order_;
  InspectOptions options_;
  GangOptions ganged_;
  std::filesystem::path beside_;
  std::vector<std::shared_ptr<Laying>> layings_;  // one a kind
  std::vector<std::size_t> kind_of_;              // each ordered piece's
  std::size_t next_ = 0;
};

}  // namespace layright
