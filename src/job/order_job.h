// An order from its files to proved sheets, for whoever works on it among other jobs: each file laid alone, then all put on sheets.
#pragma once
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "isolate/job_chain.h"
#include "job/gang_job.h"
#include "job/known_file.h"
#include "job/laid_pieces.h"

namespace layright {

struct OrderJobOptions {
  GangOrder order;
  std::shared_ptr<InspectOptions const> inspect;  // its placement says nothing of single pieces
  GangOptions ganged;
  std::filesystem::path sheets, plates;  // where they would get their names; plates: of a file of their own
  int only_sheet = 0;                    // of all that the order makes; 0: all of them
};

class OrderJob : public JobChain {
 public:
  explicit OrderJob(OrderJobOptions options);
  ~OrderJob() override;

  /// All of these require over().
  LaidPieces const& pieces() const { return pieces_; }
  /// Why there are no sheets, although all files could be laid.
  std::optional<Error> const& trouble() const { return trouble_; }
  bool written() const { return written_; }
  /// Of what was written: whole and proved, without names.
  OutputFile take_sheets() { return std::move(*sheets_); }
  std::optional<OutputFile> take_plates() { return std::move(plates_); }
  GangReport const& report() const { return report_; }
  /// The sheets, as they were looked at.
  KnownFile const& known() const { return known_; }

 protected:
  void more() override;

 private:
  class SheetsCheck;
  enum class Step { lay, write, look, over };
  void write();
  void look();
  void take_look();

  OrderJobOptions options_;
  LaidPieces pieces_;
  std::shared_ptr<GangJob> gang_;
  std::shared_ptr<SheetsCheck> check_;
  GangReport report_;
  KnownFile known_;
  std::optional<OutputFile> sheets_, plates_;
  std::optional<Error> trouble_;
  bool written_ = false;
  Step step_ = Step::lay;
};

}  // namespace layright
