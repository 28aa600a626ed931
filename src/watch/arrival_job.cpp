#include "watch/arrival_job.h"

#include <sys/stat.h>
#include <unistd.h>

#include <utility>

#include "job/messages.h"
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
  return lay;
}

/// Tells each page to two others: what is known of the laid file, and the list of findings.
class FindingsReport : public Report {
 public:
  FindingsReport(KnownFile& known, Json& findings, Unit unit) : known_(report_into(known, true)), findings_(findings), unit_(unit) {}
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
      if (!reported.member.empty()) finding["member"] = reported.member;
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
  bool package_ = false, opened_ = false;
};

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
  lay_ = std::make_shared<LayJob>(options_.entry.place, options_.inspect, lay_options(options_));
  add(lay_);
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
  FindingsReport report(known_, findings_, options_.inspect->unit);
  lay_->story().release(report);
  digest_ = lay_->story().head().sha256;
  output_error_ = lay_->output_trouble();
  if (!laid()) return;
  output_.emplace(lay_->take_output());
  plate_output_ = lay_->take_plate_output();
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

int ArrivalJob::pages_done() const { return lay_->story().pages(); }

int ArrivalJob::pages_of() const { return lay_->story().head().page_count; }

std::string ArrivalJob::refusal() const {
  bool const opened = page_count() > 0;  // of what cannot be opened the reason stays, though a person has accepted it
  Json const* first = nullptr;           // what another size fixes goes behind all else
  for (auto const& f : findings_)
    if (f.value("level", "") == "hold" && (!opened || !f.value("accepted", false)) &&
        (!first || (is_about_size(first->value("check", "")) && !is_about_size(f.value("check", "")))))
      first = &f;
  if (first) return (first->contains("page") && page_count() > 1 ? place_of(*first) + ": " : std::string()) + words_of_finding(*first);
  return lay_->story().tail().refusal;
}

bool ArrivalJob::worker_failed() const {
  return !laid() && (lay_->deaths() > 0 || output_error_ == ErrorKind::internal || output_error_ == ErrorKind::hold);
}

}  // namespace layright
