// The files of an order, each laid alone: checked, placed, written and proved as `lay` does it, without a name.
#pragma once
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "command/exit_status.h"
#include "job/gang_job.h"
#include "job/gang_layout.h"
#include "job/lay_job.h"
#include "report/report.h"
#include "sheet/gang_order.h"

namespace layright {

struct LaidPiecesOptions {
  std::filesystem::path beside;  // the output: what is laid lies beside it without a name
  int parallel = 1;
};

class LaidPieces {
 public:
  LaidPieces(GangOrder const& order, InspectOptions const& options, GangOptions const& ganged, LaidPiecesOptions const& how);
  /// The worst of all files.
  ExitStatus run();

  /// Requires run() to have ended well.
  std::vector<WantedPage> wanted_pages() const;
  std::vector<KeptLaidFile> take_files();

  void tell(Report& report) const;
  /// What `lay --format json` tells of the files.
  std::string json(Target const& target) const;
  /// Checks whose holds would have to be accepted, with commas between; empty where that alone would not do.
  std::string would_be_accepted() const;

 private:
  /// A file that is laid once, however often it is ordered.
  struct Kind {
    OrderedPiece piece;
    PieceTurns turns;
    FileHead head;
    std::vector<PageSummary> pages;
    FileTail tail;
    std::shared_ptr<KeptFile const> laid;
    std::vector<std::shared_ptr<InkShape const>> shapes = {};  // of each page, for Cuts::shape
    ExitStatus status = ExitStatus::hold;
  };
  std::shared_ptr<LayJob> job_of(Kind const& kind) const;
  void take(Kind& kind, LayJob& job) const;
  void draw_shapes(Kind& kind, int descriptor) const;

  GangOrder const& order_;
  InspectOptions const& options_;
  GangOptions const& ganged_;
  LaidPiecesOptions how_;
  std::vector<Kind> kinds_;
  std::vector<std::size_t> kind_of_;  // each ordered piece's
};

}  // namespace layright
