#include "job/gang_job.h"

#include <sys/stat.h>

#include "job/file_job.h"
#include "job/plate_work.h"

namespace layright {
namespace {

std::size_t bytes_in(int descriptor) {
  struct stat about {};
  return fstat(descriptor, &about) == 0 && about.st_size > 0 ? static_cast<std::size_t>(about.st_size) : 0;
}

}  // namespace

GangJob::GangJob(std::vector<KeptLaidFile> files, GangPlan plan, std::shared_ptr<InspectOptions const> options, OutputFile output,
                 std::optional<OutputFile> plates)
    : files_(std::move(files)), plan_(std::move(plan)), options_(std::move(options)), output_(std::move(output)), plates_(std::move(plates)) {
  joined_ = std::tmpfile();
  tape_ = std::tmpfile();
  if (wants_plate()) unplated_ = std::tmpfile();
  if (!joined_ || !tape_ || (wants_plate() && !unplated_)) fail(ErrorKind::io, "no temporary file for the sheets can be made");
}

GangJob::~GangJob() {
  for (auto* const file : {joined_, tape_, unplated_})
    if (file) std::fclose(file);
}

bool GangJob::wants_plate() const { return options_->target.plate.from != PlateFrom::off; }

/// A child is not trusted to have told of all pages.
bool GangJob::all_traced() const {
  for (auto const& sheet : plan_.sheets)
    for (auto const& piece : sheet.sheet.pieces)
      if (static_cast<std::size_t>(piece.page) > traced_.size()) return false;
  return true;
}

void GangJob::fail(ErrorKind kind, std::string why) {
  if (!trouble_) trouble_ = Error{kind, std::move(why)};
  step_ = Step::over;
}

/// What is mapped behind the sandbox is no memory that reading takes.
WorkerTask GangJob::task() const {
  WorkerTask task = usual_task(*options_);
  task.seconds_in_all = options_->target.limits.seconds_a_file * static_cast<double>(std::max<std::size_t>(files_.size(), 1));
  std::size_t laid = 0;
  for (auto const& file : files_) laid += file.pdf->bytes().size();
  task.limits.memory_bytes += 2 * laid + 2 * bytes_in(sheets()) + bytes_in(fileno(tape_));
  return task;
}

std::optional<WorkerTask> GangJob::next() {
  if (step_ == Step::over) return std::nullopt;
  told_ = false;
  auto task = this->task();
  if (step_ == Step::write) {
    task.keep = {fileno(joined_), fileno(tape_), sheets()};
    task.work = [this](Sender const& sender) {
      GangWork work{{}, &plan_, fileno(joined_), sheets(), tape_};
      for (auto const& file : files_) work.files.push_back({file.name, file.pdf->bytes()});
      write_gang_sheets(work, *options_, sender);
    };
  } else if (step_ == Step::prove) {
    task.keep = {fileno(tape_), sheets()};
    task.work = [this](Sender const& sender) { verify_gang_sheets({&plan_, &traced_, fileno(tape_), sheets()}, *options_, sender); };
  } else {
    int const apart = plates_ ? plates_->descriptor() : -1;
    task.keep = {sheets(), output_.descriptor()};
    if (plates_) task.keep.push_back(apart);
    task.seconds = seconds_for_plate(options_->target) + 1;
    task.seconds_in_all += task.seconds * static_cast<double>(plan_.sheets.size());
    task.work = [this, apart](Sender const& sender) { plate_laid({sheets(), output_.descriptor(), apart, &sheets_}, *options_, sender); };
  }
  return task;
}

void GangJob::message(Message const& message) {
  if (auto ganged = received<message::Ganged>(message)) {
    traced_ = std::move(ganged->pages);
    told_ = step_ == Step::write && all_traced();
  } else if (auto const refused = received<message::Refused>(message)) {
    fail(ErrorKind::hold, refused->text);
  } else if (auto const not_written = received<message::NotWritten>(message)) {
    fail(ErrorKind::io, "the sheets cannot be written: " + not_written->text);
  } else if (received<message::Proved>(message)) {
    told_ = step_ == Step::prove;
  } else if (auto const differs = received<message::Differs>(message)) {
    if (differs->source_damaged)
      fail(ErrorKind::hold, "a file is damaged, and two ways of reading it see different things (" + differs->how + "); have it saved anew");
    else fail(ErrorKind::internal, "the sheets do not show what their sources show (" + differs->how + "), so they were not kept; please report it");
  } else if (auto plated = received<message::Plated>(message)) {
    plated_ = std::move(*plated);
    told_ = step_ == Step::plate;
  } else if (auto const not_plated = received<message::NotPlated>(message)) {
    fail(not_plated->defect ? ErrorKind::internal : ErrorKind::hold, not_plated->why);
  }
}

void GangJob::ended(WorkerEnd const& end) {
  if (step_ == Step::over) return;
  bool const limits = end.how == WorkerEnd::How::out_of_time || end.how == WorkerEnd::How::out_of_memory;
  if (limits) return fail(ErrorKind::hold, "putting the pieces on sheets took more time or memory than the limits allow; make several orders");
  if (!told_ || end.how != WorkerEnd::How::finished) return fail(ErrorKind::internal, "putting the pieces on sheets failed; please report it");
  if (step_ == Step::write) {
    step_ = Step::prove;
  } else if (step_ == Step::prove && wants_plate()) {
    sheets_.assign(plan_.sheets.size(), Verification{});
    for (std::size_t i = 0; i < sheets_.size(); ++i)
      for (auto const& piece : plan_.sheets[i].sheet.pieces) sheets_[i].trouble |= traced_.at(static_cast<std::size_t>(piece.page - 1)).trouble;
    step_ = Step::plate;
  } else {
    step_ = Step::over;
  }
}

}  // namespace layright
