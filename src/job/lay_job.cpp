#include "job/lay_job.h"

#include <sys/stat.h>

#include <algorithm>
#include <cstring>
#include <set>
#include <utility>

#include "isolate/sandboxed_program.h"
#include "job/lay_work.h"
#include "job/plate_work.h"
#include "setup/postscript_job.h"

namespace layright {
namespace {
constexpr int kLeastPagesAPart = 20;  // opening the file once more costs about as much as reading so many pages

std::size_t size_of(int descriptor) {
  struct stat about {};
  return fstat(descriptor, &about) == 0 && about.st_size > 0 ? static_cast<std::size_t>(about.st_size) : 0;
}

/// What a run that was cut short between its two files leaves. Empty where that is not what lies there.
std::string plate_left_alone(std::filesystem::path const& laid) {
  std::error_code ignored;
  auto const plate = plate_file_of(laid);
  if (!std::filesystem::exists(plate, ignored) || std::filesystem::exists(laid, ignored)) return {};
  return plate.string() + ": there is a file of that name without its " + laid.filename().string() +
         ", as a run that is cut short leaves it; --force makes both anew";
}

}  // namespace

LayJob::LayJob(std::filesystem::path path, std::shared_ptr<InspectOptions const> options, LayOptions lay)
    : CheckJob(std::move(path), std::move(options)), lay_(std::move(lay)) {}

LayJob::~LayJob() {
  if (tape_) std::fclose(tape_);
  if (laid_pdf_) std::fclose(laid_pdf_);
  if (unplated_) std::fclose(unplated_);
}

std::function<void(Sender const&)> LayJob::work(CheckWork const& work) const {
  return [work, tiling = lay_.tiling, tape = tape_, output = laid()](Sender const& sender) { lay_file(work, tiling, tape, output, sender); };
}

/// Writing takes all pages in one child, so the new one begins anew; what was told of earlier pages is reported again and passed over.
int LayJob::restart_with_letters(int from) {
  if (tape_) std::rewind(tape_);
  pages_.clear();
  tiles_.clear();
  refusals_.resize(output_trouble_ ? 1 : 0);  // what keeps the output from being made stands whoever reads the letters
  holds_.clear();
  reported_below_ = from;
  return 1;
}

std::vector<int> LayJob::kept_descriptors() const {
  std::vector<int> kept;
  if (laid() >= 0) kept.push_back(laid());
  if (tape_) kept.push_back(fileno(tape_));
  return kept;
}

class LayJob::Proof : public Job {
 public:
  Proof(std::shared_ptr<LayJob> lay, int first, int last) : lay_(std::move(lay)), first_(first), last_(last) {}

  std::optional<WorkerTask> next() override {
    if (std::exchange(started_, true)) return std::nullopt;
    WorkerTask task = usual_task(lay_->options());
    task.keep = lay_->kept_descriptors();
    task.seconds_in_all = lay_->options().target.limits.seconds_a_file;
    // Each part of a page shows all of its marks.
    if (lay_->lay_.tiling) task.seconds_in_all += lay_->options().target.limits.seconds_a_page * (last_ - first_ + 1);
    // The laid file and the tape are mapped behind the sandbox: they are no memory that reading takes.
    for (int const descriptor : task.keep) task.limits.memory_bytes += size_of(descriptor);
    ProofPart const part{lay_->laid(), fileno(lay_->tape_), &lay_->pages_, first_, last_};
    task.work = [this, part](Sender const& sender) { verify_laid(part, lay_->options(), sender); };
    return task;
  }
  void message(Message const& message) override {
    if (received<message::Proved>(message)) proved_ = true;
    auto differs = received<message::Differs>(message);
    damaged_ = differs && differs->source_damaged;
    if (differs) difference_ = std::move(differs->how);
  }
  void ended(WorkerEnd const& end) override {
    bool const limits = end.how == WorkerEnd::How::out_of_time || end.how == WorkerEnd::How::out_of_memory;
    if (!proved_ && difference_.empty())
      difference_ = limits ? "reading it back took more time or memory than the limits allow" : "reading it back failed";
    lay_->part_proved(difference_, limits ? ErrorKind::hold : damaged_ ? ErrorKind::data : ErrorKind::internal);
  }
  std::vector<std::shared_ptr<Job>> followers() override {
    auto plating = lay_->plating();
    return plating ? std::vector<std::shared_ptr<Job>>{std::move(plating)} : std::vector<std::shared_ptr<Job>>{};
  }

 private:
  std::shared_ptr<LayJob> lay_;
  int first_, last_;
  bool started_ = false, proved_ = false;
  bool damaged_ = false;  // the page that differs could not be read wholly in the source
  std::string difference_;
};

class LayJob::Plating : public Job {
 public:
  explicit Plating(std::shared_ptr<LayJob> lay) : lay_(std::move(lay)) {}

  std::optional<WorkerTask> next() override {
    if (std::exchange(started_, true)) return std::nullopt;
    WorkerTask task = usual_task(lay_->options());
    int const apart = lay_->apart_ ? lay_->apart_->descriptor() : -1;
    task.keep = {lay_->laid(), lay_->finished()};
    if (apart >= 0) task.keep.push_back(apart);
    task.seconds = seconds_for_plate(lay_->options().target) + 1;
    task.seconds_in_all = lay_->options().target.limits.seconds_a_file + task.seconds * static_cast<double>(lay_->pages_.size());
    task.limits.memory_bytes += 3 * size_of(lay_->laid());  // mapped, and so is what is written, which is read back
    PlateWork const work{lay_->laid(), lay_->finished(), apart, &lay_->pages_};
    task.work = [this, work](Sender const& sender) { plate_laid(work, lay_->options(), sender); };
    return task;
  }
  void message(Message const& message) override {
    if (auto plated = received<message::Plated>(message)) plated_ = std::move(*plated);
    else if (auto const not_plated = received<message::NotPlated>(message))
      lay_->refuse(not_plated->defect
                       ? "the white plate is not what it should be (" + not_plated->why + "), so the file was not kept; please report it"
                       : not_plated->why,
                   not_plated->defect ? ErrorKind::internal : ErrorKind::hold),
          reported_ = true;
    else if (auto const not_written = received<message::NotWritten>(message))
      lay_->refuse("the laid file cannot be written: " + not_written->text, ErrorKind::io), reported_ = true;
  }
  void ended(WorkerEnd const& end) override {
    bool const limits = end.how == WorkerEnd::How::out_of_time || end.how == WorkerEnd::How::out_of_memory;
    if (!plated_ && !reported_)
      lay_->refuse(
          limits ? "making the white plate took more time or memory than the limits allow" : "making the white plate failed; please report this file",
          limits ? ErrorKind::hold : ErrorKind::internal);
    lay_->plated(std::move(plated_));
  }

 private:
  std::shared_ptr<LayJob> lay_;
  std::optional<message::Plated> plated_;
  bool started_ = false, reported_ = false;
};

std::shared_ptr<Job> LayJob::plating() {
  if (phase_ != Phase::plating || std::exchange(plating_begun_, true)) return nullptr;
  return std::make_shared<Plating>(shared_from_this());
}

void LayJob::plated(std::optional<message::Plated> plated) {
  if (plated) {
    holds_.add(plated->findings);
    tail_.findings.insert(tail_.findings.end(), plated->findings.begin(), plated->findings.end());
    tail_.plates = std::move(plated->plates);
  }
  conclude();
}

std::vector<std::shared_ptr<Job>> LayJob::followers() {
  if (auto plating = this->plating()) return {std::move(plating)};
  if (phase_ != Phase::verifying) return {};
  int const count = static_cast<int>(pages_.size());
  int const parts = count < 2 * kLeastPagesAPart ? 1 : std::min(usual_parallel(), count / kLeastPagesAPart);
  std::vector<std::shared_ptr<Job>> proofs;
  for (int i = 0; i < parts; ++i) proofs.push_back(std::make_shared<Proof>(shared_from_this(), count * i / parts + 1, count * (i + 1) / parts));
  parts_left_ = parts;
  return proofs;
}

void LayJob::part_proved(std::string const& difference, ErrorKind kind) {
  if (kind == ErrorKind::data)  // where a damaged stream ends, say, each reader finds in its own way
    refuse(
        "the file is damaged, and two ways of reading it see different things (" + difference + "); have it saved again by the program that made it",
        kind);
  else if (!difference.empty())
    refuse("the laid file does not show what its source shows (" + difference + "), so it was not kept; please report this file", kind);
  if (--parts_left_ > 0) return;
  proved_ = refusals_.empty();
  if (proved_ && makes_plates()) phase_ = Phase::plating;
  else conclude();
}

void LayJob::refuse(std::string why, ErrorKind kind) {
  output_trouble_ = kind;
  refusals_.insert(refusals_.begin(), std::move(why));
}

void LayJob::open_outputs() {
  std::error_code reported_below;
  if (lay_.make_folders && lay_.output.has_parent_path()) std::filesystem::create_directories(lay_.output.parent_path(), reported_below);
  auto output = OutputFile::create(lay_.output, lay_.replace, lay_.inputs);
  if (output) output_.emplace(std::move(*output));
  else refuse(output.error().message, output.error().kind);
  if (lay_.plates && wants_plate(options().target, PlateAs::file)) {
    auto apart = OutputFile::create(plate_file_of(lay_.output), lay_.replace, lay_.inputs);
    if (apart) apart_.emplace(std::move(*apart));
    else if (auto const alone = plate_left_alone(lay_.output); lay_.replace || alone.empty()) refuse(apart.error().message, apart.error().kind);
    else refuse(alone, apart.error().kind);
  }
  if (lay_.postscript) laid_pdf_ = std::tmpfile();
  if (lay_.postscript && !laid_pdf_) refuse(std::string("no temporary file for the laid PDF can be made: ") + std::strerror(errno), ErrorKind::io);
  if (lay_.postscript && makes_plates())
    refuse("a white plate is a spot color, which a PostScript job made from the page would lose; lay it as a PDF", ErrorKind::usage);
  if (makes_plates()) unplated_ = std::tmpfile();
  if (makes_plates() && !unplated_) refuse(std::string("no temporary file for the laid PDF can be made: ") + std::strerror(errno), ErrorKind::io);
  if (lay_.verify) tape_ = std::tmpfile();
  if (lay_.verify && !tape_) refuse(std::string("no temporary file for the proof can be made: ") + std::strerror(errno), ErrorKind::io);
}

std::optional<WorkerTask> LayJob::next() {
  if (phase_ == Phase::start) {
    phase_ = Phase::reading;
    open_outputs();
  }
  if (phase_ != Phase::reading) return std::nullopt;
  return CheckJob::next();
}

void LayJob::message(Message const& message) {
  if (auto laid = received<message::LaidPage>(message)) {
    pages_.push_back(laid->proof);
    take_page(std::move(laid->page));
  } else if (auto tiled = received<message::TiledPage>(message)) {
    pages_.insert(pages_.end(), tiled->proofs.begin(), tiled->proofs.end());
    tiles_.push_back(std::move(tiled->tiles));
    take_page(std::move(tiled->page));
  } else if (auto refused = received<message::Refused>(message)) {
    refusals_.push_back(std::move(refused->text));
  } else if (auto written = received<message::Written>(message)) {
    promised_press_ = std::move(written->text);
    wrote_ = true;
  } else if (auto const not_written = received<message::NotWritten>(message)) {
    refuse("the laid file cannot be written: " + not_written->text, ErrorKind::io);
  } else {
    CheckJob::message(message);
  }
}

void LayJob::ended(WorkerEnd const& end) {
  if (end.how != WorkerEnd::How::finished) wrote_ = false;
  CheckJob::ended(end);
}

void LayJob::finish(FileTail tail) {
  tail_ = std::move(tail);
  holds_.add(tail_.findings);
  if (!output_trouble_ && !holds_.empty()) refusals_.insert(refusals_.begin(), holds_.words());
  if (wrote_ && refusals_.empty() && lay_.verify) phase_ = Phase::verifying;
  else if (wrote_ && refusals_.empty() && makes_plates()) phase_ = Phase::plating;
  else conclude();
}

int LayJob::laid() const {
  if (!output_) return -1;
  return unplated_ ? fileno(unplated_) : finished();
}

int LayJob::finished() const {
  if (!output_) return -1;
  return laid_pdf_ ? fileno(laid_pdf_) : output_->descriptor();
}

Outcome LayJob::write_postscript() {
  std::FILE* const pages = std::tmpfile();
  if (!pages) return Error{ErrorKind::io, std::strerror(errno)};
  std::rewind(laid_pdf_);
  SandboxedProgram program;
  program.words = postscript_words();
  program.input = fileno(laid_pdf_);
  program.output = fileno(pages);
  program.scratch_bytes = std::size_t{4} << 30;
  program.seconds = 30 + options().target.limits.seconds_a_page * static_cast<double>(pages_.size());
  program.resident_bytes = static_cast<std::size_t>(options().target.limits.memory_mb * 1024 * 1024);
  Outcome outcome = run_shut_in(program);
  if (!outcome && outcome.error().message.starts_with("gs failed")) outcome = Error{ErrorKind::internal, "Ghostscript cannot write its pages"};
  auto const bytes = map_whole(fileno(pages));
  if (outcome) {
    auto const job = postscript_job({reinterpret_cast<char const*>(bytes.data()), bytes.size()}, *lay_.postscript);
    if (!job) outcome = job.error();
    else
      for (auto const piece : job->pieces)
        if (outcome) outcome = output_->write(std::as_bytes(std::span(piece)));
  }
  std::fclose(pages);
  return outcome;
}

void LayJob::report_holds() {
  tail_.held_by = holds_.checks();
  tail_.wanted_output = lay_.output.native();
  if (trouble() || holds_.empty() || !holds_.can_all_be_accepted()) return;
  std::set<std::string> accept(tail_.held_by.begin(), tail_.held_by.end());
  accept.insert(options().selection.accept.begin(), options().selection.accept.end());
  tail_.accept.assign(accept.begin(), accept.end());
}

Outcome LayJob::commit() {
  if (!apart_) return output_->commit();
  // An earlier pair goes as a whole, and the plate comes first: whoever finds a laid file finds its own plate there, even if this ends between.
  Outcome kept = output_->set_earlier_aside();
  if (kept) kept = apart_->set_earlier_aside();
  if (kept) kept = apart_->commit();
  if (kept) kept = output_->commit();
  if (kept) return kept;
  output_->take_back(), apart_->take_back();
  return Error{kept.error().kind, kept.error().message + "; no new file was left"};
}

void LayJob::conclude() {
  phase_ = Phase::over;
  if (wrote_ && refusals_.empty() && lay_.postscript)
    if (auto const made = write_postscript(); !made) refuse("the PostScript job cannot be made: " + made.error().message, made.error().kind);
  if (wrote_ && refusals_.empty()) {
    auto const kept = lay_.keep_back ? done() : commit();
    committed_ = kept.has_value();
    if (!kept) refuse(kept.error().message, kept.error().kind);
  }
  if (committed_) {
    tail_.output = lay_.output.native();
    if (apart_) tail_.plate_output = plate_file_of(lay_.output).native();
    tail_.verified = proved_;
    if (lay_.tiling) tail_.manifest = tile_manifest(story_.head(), tiles_);
    if (tail_.verdict == Verdict::fix) tail_.verdict = Verdict::ready;  // it is fixed
  } else {
    tail_.verdict = Verdict::hold;
    tail_.refusal = !refusals_.empty() ? refusals_.front() : "the file could not be read to its end";
    if (!output_trouble_) report_holds();
  }
  if (!committed_ || !lay_.keep_back) output_.reset(), apart_.reset();
  story_.tail(std::move(tail_));
}

}  // namespace layright
