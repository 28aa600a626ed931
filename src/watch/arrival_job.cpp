#include "watch/arrival_job.h"

#include <sys/stat.h>
#include <unistd.h>

#include <utility>

#include "job/messages.h"
#include "report/gang_report.h"
#include "report/short_words.h"
#include "watch/held_note.h"
#include "write/move_file.h"

namespace layright {
namespace {

/// No file has this name: it only says which folder an output without a name is in.
std::filesystem::path nameless(ArrivalOptions const& options, char const* what) {
  return options.ready / (".layright-" + std::to_string(getpid()) + "-" + std::to_string(options.entry.id) + what);
}

LayOptions lay_options(ArrivalOptions const& options) {
  LayOptions lay;
  lay.output = nameless(options, ".pdf");
  lay.keep_back = true;
  lay.follow_links = false;
  lay.plates = !options.waits;  // they are made of whole sheets
  return lay;
}

/// Tells each page to two others: what is known of the laid file, and the list of findings. `piece`: of several files, which it is.
class FindingsReport : public Report {
 public:
  FindingsReport(KnownFile& known, Json& findings, Unit unit, std::string piece = {})
      : known_(report_into(known, true)), findings_(findings), unit_(unit), piece_(std::move(piece)) {}
  void begin_file(FileHead const& head) override {
    known_->begin_file(head);
    package_ = head.format == "zip";
    opened_ = head.page_count > 0;
  }
  void page(PageSummary const& reported) override {
    known_->page(reported);
    for (auto const& f : reported.findings) {
      auto finding = with_words(f);
      finding["page"] = reported.number;
      if (auto const& member = piece_.empty() ? reported.member : piece_; !member.empty()) finding["member"] = member;
      findings_.push_back(std::move(finding));
    }
  }
  void end_file(FileHead const& head, FileTail const& tail) override {
    known_->end_file(head, tail);
    for (auto const& f : tail.findings) findings_.push_back(package_ ? finding_json(f) : with_words(f));  // of a package the message names the file
  }
  void end_run(Verdict) override {}

 private:
  /// With the short sentence that persons get to see first.
  Json with_words(Finding const& f) const {
    auto finding = finding_json(f);
    finding["words"] = f.check == "file.damaged" && !opened_ ? std::string(kUnreadableFile) : short_words(f, unit_);
    return finding;
  }
  std::unique_ptr<Report> known_;
  Json& findings_;
  Unit unit_;
  std::string piece_;
  bool package_ = false, opened_ = false;
};

/// The first hold, as a person is told it; else what `otherwise` says.
std::string first_hold(Json const& findings, int page_count, std::string const& otherwise) {
  bool const opened = page_count > 0;  // of what cannot be opened the reason stays, though a person has accepted it
  Json const* first = nullptr;         // what another size fixes goes behind all else
  for (auto const& f : findings)
    if (f.value("level", "") == "hold" && (!opened || !f.value("accepted", false)) &&
        (!first || (is_about_size(first->value("check", "")) && !is_about_size(f.value("check", "")))))
      first = &f;
  if (first) return (first->contains("page") && page_count > 1 ? place_of(*first) + ": " : std::string()) + words_of_finding(*first);
  return otherwise;
}

/// Keeps the ink of each page that is laid.
class BoxReport : public Report {
 public:
  BoxReport(std::vector<WaitingPiece::InkSize>& boxes, Target const& target) : boxes_(boxes), target_(target) {}
  void begin_file(FileHead const&) override {}
  void page(PageSummary const& page) override {
    if (!page.placement || !page.placement->ink || page.is_plate) return;
    auto const ink = ink_of_piece(*page.placement, target_);
    boxes_.push_back({ink.width(), ink.height(), page.number});
  }
  void end_file(FileHead const&, FileTail const&) override {}
  void end_run(Verdict) override {}

 private:
  std::vector<WaitingPiece::InkSize>& boxes_;
  Target const& target_;
};

/// Passes all on to two others.
class BothReports : public Report {
 public:
  BothReports(Report& first, Report& second) : first_(first), second_(second) {}
  void begin_file(FileHead const& head) override { first_.begin_file(head), second_.begin_file(head); }
  void page(PageSummary const& page) override { first_.page(page), second_.page(page); }
  void end_file(FileHead const& head, FileTail const& tail) override { first_.end_file(head, tail), second_.end_file(head, tail); }
  void end_run(Verdict verdict) override { first_.end_run(verdict), second_.end_run(verdict); }

 private:
  Report &first_, &second_;
};

OrderJobOptions order_options(ArrivalOptions const& options) {
  auto const& target = options.inspect->target;
  return {*options.order,
          options.inspect,
          with_choices(target.ganged, options.order->choices),
          nameless(options, ".pdf"),
          nameless(options, "-white.pdf"),
          options.only_sheet};
}

}  // namespace

/// Composes the job sheet. Our own data only: no customer's file is looked at here.
class ArrivalJob::Sheet : public Job {
 public:
  Sheet(JobSheetOptions options, std::vector<PagePicture> pictures) : options_(std::move(options)), pictures_(std::move(pictures)) {}
  std::optional<WorkerTask> next() override {
    if (std::exchange(started_, true)) return std::nullopt;
    WorkerTask task;
    task.shut_in = false;
    task.work = [this](Sender const& sender) { compose(sender); };
    return task;
  }
  void message(Message const& message) override {
    if (auto sheet = received<message::JobSheet>(message)) pdf = std::move(sheet->text);
    if (auto no = received<message::NoJobSheet>(message)) trouble = std::move(no->text);
  }
  void ended(WorkerEnd const&) override {
    if (pdf.empty() && trouble.empty()) trouble = "the process that made it ended before it was done";
  }
  std::string pdf, trouble;

 private:
  void compose(Sender const& sender) {
    auto const pdf_or = [&]() -> Result<std::string> {
      auto const press = prepare_press(options_.target, options_.file->ink, options_.unit);
      if (!press) return press.error();
      return job_sheet_pdf(options_, press->setup, std::move(pictures_));
    }();
    if (pdf_or) send_message(sender, message::JobSheet{*pdf_or});
    else send_message(sender, message::NoJobSheet{pdf_or.error().message});
  }
  JobSheetOptions options_;
  std::vector<PagePicture> pictures_;
  bool started_ = false;
};

ArrivalJob::ArrivalJob(ArrivalOptions options) : options_(std::move(options)) {
  stage_ = options_.refused.empty() ? Stage::laying : Stage::over;
  if (stage_ == Stage::over) return;
  if (options_.order) {
    order_ = std::make_shared<OrderJob>(order_options(options_));
    add(order_);
  } else {
    lay_ = std::make_shared<LayJob>(options_.entry.place, options_.inspect, lay_options(options_));
    add(lay_);
  }
}

void ArrivalJob::more() {
  switch (stage_) {
    case Stage::laying: conclude_laying(); break;
    case Stage::reading: draw(); break;
    case Stage::drawing: draw_page(); break;
    case Stage::composing: take_sheet(); break;
    case Stage::over: break;
  }
}

void ArrivalJob::conclude_laying() {
  stage_ = Stage::over;
  if (order_) return conclude_order();
  FindingsReport findings(known_, findings_, options_.inspect->unit);
  BoxReport boxes(boxes_, options_.inspect->target);
  BothReports both(findings, boxes);
  lay_->story().release(both);
  digest_ = lay_->story().head().sha256;
  output_error_ = lay_->output_trouble();
  if (laid() && !options_.waits) take_outputs(lay_->take_output(), lay_->take_plate_output());
}

void ArrivalJob::conclude_order() {
  digest_ = options_.entry.digest;  // of the order in the ledger
  auto const& pieces = order_->pieces();
  for (std::size_t i = 0; i < options_.members.size(); ++i) {
    auto const& member = options_.members[i];
    auto const& kind = pieces.kind_of(i);
    Json findings = Json::array();
    KnownFile ignored;
    FindingsReport report(ignored, findings, options_.inspect->unit, piece_words(member));
    report.begin_file(kind.head);
    for (auto const& page : kind.pages) report.page(page);
    report.end_file(kind.head, kind.tail);
    for (auto const& finding : findings) findings_.push_back(finding);
    deaths_ += kind.deaths;
    bool const other_bytes = !kind.head.sha256.empty() && kind.head.sha256 != member.digest;
    if (kind.trouble) output_error_ = kind.trouble;
    if (!kind.ready || other_bytes)
      held_members_.push_back({i, other_bytes ? "its bytes are not those that came" : first_hold(findings, kind.head.page_count, kind.tail.refusal),
                               json_text(findings)});
  }
  if (auto const& trouble = order_->trouble()) output_error_ = trouble->kind;
  if (!laid()) return;
  known_ = order_->known();
  auto plates = order_->take_plates();
  take_outputs(order_->take_sheets(), std::move(plates));
}

void ArrivalJob::take_outputs(OutputFile made, std::optional<OutputFile> plates) {
  output_.emplace(std::move(made));
  plate_output_ = std::move(plates);
  struct stat about {};
  if (fstat(output_->descriptor(), &about) == 0 && worth_copying_ahead(about.st_size)) {
    reading_ = CopyAhead::reading(output_->descriptor());
    add(reading_);
    stage_ = Stage::reading;
    return;
  }
  if (auto const digest = digest_of(output_->descriptor(), options_.ready)) output_digest_ = *digest;
  draw();
}

void ArrivalJob::draw() {
  stage_ = Stage::over;
  if (reading_) output_digest_ = reading_->digest_there();
  if (!output_digest_.empty()) known_.file.sha256 = output_digest_;
  known_.file.name = options_.output_stem.empty() ? std::filesystem::path(options_.entry.name).filename().native() : options_.output_stem + ".pdf";
  if (options_.job_sheet) draw_page();
}

/// The first page, or the one after that which was drawn last; a page that cannot be drawn leaves its place empty.
void ArrivalJob::draw_page() {
  if (drawing_) pictures_.push_back(drawing_->picture ? std::move(*drawing_->picture) : PagePicture());
  drawing_.reset();
  if (static_cast<int>(pictures_.size()) >= pages_pictured(known_)) return compose_sheet();
  auto input = InputFile::of(output_->descriptor(), nameless(options_, ".pdf"));
  if (!input) return compose_sheet();
  known_.file.bytes = static_cast<long long>((*input)->bytes().size());
  drawing_ = std::make_shared<DrawingJob>(std::move(*input), static_cast<int>(pictures_.size()) + 1, kJobSheetPictureSide, *options_.inspect);
  add(drawing_);
  stage_ = Stage::drawing;
}

void ArrivalJob::compose_sheet() {
  JobSheetOptions sheet;
  sheet.target = settled(options_.inspect->target, known_);
  sheet.file = known_;
  sheet.unit = options_.inspect->unit;
  sheet.job = options_.job;
  sheet.released = options_.released;
  if (order_) sheet.cuts = cut_list(order_->report(), options_.inspect->unit);
  composing_ = std::make_shared<Sheet>(std::move(sheet), std::move(pictures_));
  add(composing_);
  stage_ = Stage::composing;
}

void ArrivalJob::take_sheet() {
  stage_ = Stage::over;
  sheet_trouble_ = composing_->trouble;
  if (composing_->pdf.empty()) return;
  auto out = OutputFile::create(nameless(options_, ".job.pdf"), false, {});
  auto const written = out ? out->write(std::as_bytes(std::span(composing_->pdf))) : Outcome(out.error());
  if (written) {
    sheet_.emplace(std::move(*out));
  } else {
    sheet_trouble_ = written.error().message;
    output_error_ = written.error().kind;
  }
  composing_.reset();
}

int ArrivalJob::pages_done() const { return lay_ ? lay_->story().pages() : 0; }

int ArrivalJob::pages_of() const { return lay_ ? lay_->story().head().page_count : 0; }

std::string ArrivalJob::refusal() const {
  if (!order_) return first_hold(findings_, page_count(), lay_->story().tail().refusal);
  if (!held_members_.empty()) return piece_words(options_.members[held_members_.front().piece]) + ": " + held_members_.front().reason;
  return order_->trouble() ? order_->trouble()->message : "its pieces could not be put on sheets";
}

bool ArrivalJob::worker_failed() const {
  if (laid()) return false;
  if (order_) return deaths_ > 0 || output_error_ == ErrorKind::internal;
  return lay_->deaths() > 0 || output_error_ == ErrorKind::internal || output_error_ == ErrorKind::hold;
}

}  // namespace layright
