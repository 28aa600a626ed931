// One taken arrival through its children: checked and laid, then its job sheet.
#pragma once
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "isolate/job_chain.h"
#include "job/job_sheet_pdf.h"
#include "job/lay_job.h"
#include "job/order_job.h"
#include "watch/copy_ahead.h"
#include "watch/gang_piece.h"
#include "watch/ledger.h"

namespace layright {

struct ArrivalOptions {
  LedgerEntry entry;
  std::shared_ptr<InspectOptions const> inspect;
  std::filesystem::path ready;  // the folder of the outputs
  bool job_sheet = true;
  std::string output_stem = {};            // what the outputs will be called, without their endings; empty: not known yet
  std::string job = {};                    // what the barcode of the job sheet holds
  std::vector<std::string> released = {};  // who released it, and what
  bool waits = false;                      // it only proves that it can be laid: it waits to share a sheet
  std::optional<GangOrder> order = {};     // of a batch, each piece from where it lies now
  std::vector<LedgerEntry> members = {};   // of a batch, in the order of its pieces
  int only_sheet = 0;                      // of a batch: this one of its sheets, once more
  std::string refused = {};                // why it cannot even be tried; then `inspect` is empty and nothing is done
};

class ArrivalJob : public JobChain {
 public:
  explicit ArrivalJob(ArrivalOptions options);

  ArrivalOptions const& options() const { return options_; }
  std::string const& digest() const { return digest_; }  // of the bytes that were read; empty where none could be
  int page_count() const { return known_.file.pages; }
  /// Of its pages so many are laid, of so many; 0 where nobody knows yet.
  int pages_done() const;
  int pages_of() const;
  KnownFile const& known() const { return known_; }              // of the laid file
  std::string findings() const { return json_text(findings_); }  // all, of its pages too (with "page"), as a JSON list
  bool laid() const { return order_ ? order_->written() : lay_->written(); }
  /// Of one that waits: the ink of its pages.
  std::vector<WaitingPiece::InkSize> const& boxes() const { return boxes_; }
  /// Of what waits for a sheet, likewise.
  std::string const& promised_press() const { return lay_->promised_press(); }
  /// A piece of a batch that cannot be laid any more, and why.
  struct HeldMember {
    std::size_t piece = 0;
    std::string reason, findings;
  };
  std::vector<HeldMember> const& held_members() const { return held_members_; }
  /// Why nothing was laid, in plain words.
  std::string refusal() const;
  /// Children died, hung or grew too large, and nothing came of it: worth another try.
  bool worker_failed() const;
  /// What kept the output from being made although the file is good: the disk.
  bool disk_failed() const { return output_error_ == ErrorKind::io || output_error_ == ErrorKind::cannot_create; }

  /// Requires laid(): whole and proved, without names yet. The sheet is there where one was asked for and could be made.
  OutputFile& output() { return *output_; }
  std::optional<OutputFile>& plate_output() { return plate_output_; }  // of the plates, where they get a file of their own
  std::string const& output_digest() const { return output_digest_; }
  std::optional<OutputFile>& sheet() { return sheet_; }
  std::string const& sheet_trouble() const { return sheet_trouble_; }

 protected:
  void more() override;

 private:
  class Sheet;
  void conclude_laying();
  void conclude_order();
  void take_outputs(OutputFile laid, std::optional<OutputFile> plates);
  void draw();
  void draw_page();
  void compose_sheet();
  void take_sheet();

  ArrivalOptions options_;
  std::shared_ptr<LayJob> lay_;         // either of these two
  std::shared_ptr<OrderJob> order_;     // of a batch
  std::shared_ptr<CopyAhead> reading_;  // of a large output
  std::shared_ptr<DrawingJob> drawing_;
  std::vector<PagePicture> pictures_;  // of the first pages
  std::shared_ptr<Sheet> composing_;
  KnownFile known_;
  Json findings_ = Json::array();
  std::optional<OutputFile> output_, plate_output_, sheet_;
  std::optional<ErrorKind> output_error_;
  std::vector<WaitingPiece::InkSize> boxes_;
  std::vector<HeldMember> held_members_;
  int deaths_ = 0;  // of a batch
  std::string digest_, output_digest_, sheet_trouble_;
  enum class Stage { laying, reading, drawing, composing, over } stage_ = Stage::laying;
};

}  // namespace layright
