#include "intake/lay_job.h"

#include <cstring>

#include "intake/lay_work.h"

namespace layright {

LayJob::LayJob(std::filesystem::path path, std::shared_ptr<InspectWish const> wish, LayWish lay)
    : CheckJob(std::move(path), std::move(wish)), lay_(std::move(lay)) {}

LayJob::~LayJob() {
  if (tape_) std::fclose(tape_);
}

std::function<void(Sender const&)> LayJob::work(CheckWork const& work) const {
  return [work, tape = tape_, output = output_ ? output_->descriptor() : -1](Sender const& sender) { lay_file(work, tape, output, sender); };
}

/// Writing takes all pages in one child, so the new one begins anew; what was told of earlier pages is told again and passed over.
int LayJob::restart_with_letters(int from) {
  if (tape_) std::rewind(tape_);
  placements_.clear();
  refusals_.clear();
  told_below_ = from;
  return 1;
}

std::vector<int> LayJob::kept_descriptors() const {
  std::vector<int> kept;
  if (output_) kept.push_back(output_->descriptor());
  if (tape_) kept.push_back(fileno(tape_));
  return kept;
}

WorkerTask LayJob::verifying_task() const {
  WorkerTask task = usual_task(wish());
  task.keep = kept_descriptors();
  task.work = [this](Sender const& sender) { verify_laid(output_->descriptor(), tape_, placements_, wish(), sender); };
  return task;
}

void LayJob::refuse(std::string why, ErrorKind kind) {
  output_trouble_ = kind;
  refusals_.insert(refusals_.begin(), std::move(why));
}

std::optional<WorkerTask> LayJob::next() {
  if (phase_ == Phase::start) {
    phase_ = Phase::reading;
    auto output = OutputFile::create(lay_.output, lay_.replace, lay_.inputs);
    if (output)
      output_.emplace(std::move(*output));
    else
      refuse(output.error().message, output.error().kind);
    if (lay_.verify) tape_ = std::tmpfile();
    if (lay_.verify && !tape_) refuse(std::string("no temporary file for the proof can be made: ") + std::strerror(errno), ErrorKind::io);
  }
  if (phase_ == Phase::verifying) return verifying_task();
  if (phase_ == Phase::over) return std::nullopt;
  return CheckJob::next();
}

void LayJob::message(Message const& message) {
  switch (message.kind) {
    case 'q': {
      double n[6];
      if (message.bytes.size() != sizeof n) return;
      std::memcpy(n, message.bytes.data(), sizeof n);
      placements_.push_back({n[0], n[1], n[2], n[3], n[4], n[5]});
      return;
    }
    case 'r': refusals_.push_back(message.bytes); return;
    case 'w': wrote_ = true; return;
    case 'i': refuse("the laid file cannot be written: " + message.bytes, ErrorKind::io); return;
    case 'v': proved_ = true; return;
    case 'd': difference_ = message.bytes; return;
    case 'k': return;
    default: CheckJob::message(message);
  }
}

void LayJob::ended(WorkerEnd const& end) {
  if (phase_ != Phase::verifying) {
    if (end.how != WorkerEnd::How::finished) wrote_ = false;
    CheckJob::ended(end);
    return;
  }
  if (!proved_) {
    bool const limits = end.how == WorkerEnd::How::out_of_time || end.how == WorkerEnd::How::out_of_memory;
    if (difference_.empty()) difference_ = limits ? "reading it back took more time or memory than the limits allow" : "reading it back failed";
    refuse("the laid file does not show what its source shows (" + difference_ + "), so it was not kept; please report this file",
           limits ? ErrorKind::hold : ErrorKind::internal);
  }
  conclude();
}

void LayJob::finish(FileTail tail) {
  tail_ = std::move(tail);
  if (wrote_ && refusals_.empty() && lay_.verify)
    phase_ = Phase::verifying;
  else
    conclude();
}

void LayJob::conclude() {
  phase_ = Phase::over;
  if (wrote_ && refusals_.empty()) {
    auto const kept = output_->commit();
    committed_ = kept.has_value();
    if (!kept) refuse(kept.error().message, kept.error().kind);
  }
  output_.reset();
  if (committed_) {
    tail_.output = lay_.output.native();
    tail_.verified = proved_;
    if (tail_.verdict == Verdict::fix) tail_.verdict = Verdict::ready;  // it is mended
  } else {
    tail_.verdict = Verdict::hold;
    tail_.refusal = refusals_.empty() ? tail_.findings.empty() ? "the file could not be read to its end" : tail_.findings.front().message
                                      : refusals_.front();
    if (refusals_.size() > 1) tail_.refusal += " (and " + std::to_string(refusals_.size() - 1) + " more)";
  }
  story_.tail(std::move(tail_));
}

}  // namespace layright
