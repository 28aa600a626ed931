#include "job/file_job.h"

#include <signal.h>

#include <algorithm>
#include <utility>

#include "check/trouble.h"
#include "job/check_work.h"
#include "job/messages.h"

namespace layright {
namespace {

// Memory that the program itself needs beside the file: caches of glyphs and pictures stay inside the configured limit.
constexpr double kMegabyte = 1024 * 1024;

}  // namespace

Finding death_finding(WorkerEnd const& end, InspectOptions const& options, int page) {
  using How = WorkerEnd::How;
  std::string const where = page > 0 ? "page " + std::to_string(page) : "the file";
  switch (end.how) {
    case How::out_of_time: return limit_finding(RanOut::time, page, options.target.limits);
    case How::out_of_memory: return limit_finding(RanOut::memory, page, options.target.limits);
    case How::flooded: return limit_finding(RanOut::size, page, options.target.limits);
    case How::not_started: return damaged_finding(where + " was not looked at, because no process could be started; try again");
    default:
      if (end.signal == SIGBUS)
        return damaged_finding(where +
                               " cannot be read: the file became shorter while it was read; whoever wrote it was not done, or the disk fails");
      return damaged_finding(where + " cannot be read: it broke the reading process" +
                             (end.signal ? " (signal " + std::to_string(end.signal) + ")" : "") +
                             "; ask for the file again, or save it again from the program that made it");
  }
}

WorkerTask usual_task(InspectOptions const& options) {
  WorkerTask task;
  task.limits.memory_bytes = static_cast<std::size_t>(options.target.limits.memory_mb * kMegabyte);
  // The reading gives up by itself in time; the parent waits a little longer before it ends the child.
  task.seconds = options.target.limits.seconds_a_page + 1;
  task.prepare = prepare_marks_library;
  return task;
}

CheckJob::CheckJob(std::filesystem::path path, std::shared_ptr<InspectOptions const> options)
    : path_(std::move(path)), options_(std::move(options)) {}

void CheckJob::fail(ErrorKind kind, Finding finding) {
  trouble_ = kind;
  findings_.push_back(std::move(finding));
}

bool CheckJob::open_input() {
  auto opened = open_file(path_);
  if (opened) {
    input_ = std::move(*opened);
    conversion_ = conversion_of(recognise(input_->head()), input_->bytes(), input_->name(), *options_);
    converting_ = conversion_ != nullptr;
    return true;
  }
  Finding const f = missing_file_finding(opened.error().message);
  story_.head({path_.native(), {}, {}, 0});
  fail(opened.error().kind, f);
  FileTail tail;
  tail.findings = findings_;
  tail.verdict = Verdict::hold;
  tail.refusal = opened.error().message;
  finish(std::move(tail));
  done_ = true;
  return false;
}

std::function<void(Sender const&)> CheckJob::work(CheckWork const& work) const {
  return [work](Sender const& sender) { check_file_pages(work, sender); };
}

/// Reading letters gives up by itself after 2.5 s (reading/letters.h); loading the engine comes before.
constexpr double kSecondsForLetters = 4;

LetterEngine* CheckJob::shared_engine() const { return options_->shared_letters ? options_->shared_letters->engine() : nullptr; }

/// Where the engine is not there for the whole run, it is loaded in the child, before its sandbox closes: what it reads from disk is out of reach
/// afterwards.
void CheckJob::add_letters(WorkerTask& task, CheckWork const& given) {
  task.seconds += kSecondsForLetters;
  if (auto* const shared = shared_engine()) {
    CheckWork with = given;
    with.letters = shared;
    task.work = work(with);
    return;
  }
  loads_letters_ = true;
  struct Loaded {
    std::unique_ptr<LetterEngine> engine;
    std::string trouble;
  };
  auto const loaded = std::make_shared<Loaded>();
  task.prepare = [loaded, languages = options_->target.letters] {
    prepare_marks_library();
    auto engine = prepare_letters(languages);
    if (engine) loaded->engine = std::move(*engine);
    else loaded->trouble = engine.error().message;
  };
  task.work = [this, loaded, given](Sender const& sender) {
    if (!loaded->engine) return send_message(sender, message::NoLetters{loaded->trouble});
    CheckWork with = given;
    with.letters = loaded->engine.get();
    work(with)(sender);
  };
}

/// The page is there, or the findings say why there is none.
void CheckJob::converted() {
  converting_ = false;
  if (!conversion_->pdf().empty()) {
    if (conversion_->patience() == 1) return;
    auto patient = std::make_shared<InspectOptions>(*options_);
    patient->target.limits.seconds_a_page *= conversion_->patience();
    options_ = patient;
    return;
  }
  if (conversion_->refused()) trouble_ = ErrorKind::data;
  story_.head({path_.native(), conversion_->sha256(), std::string(conversion_->format()), 0});
  findings_ = conversion_->findings();
  done_ = true;
  FileTail tail;
  tail.findings = findings_;
  tail.verdict = Verdict::hold;
  finish(std::move(tail));
}

std::optional<WorkerTask> CheckJob::next() {
  if (done_ || (!input_ && !open_input())) return std::nullopt;
  auto const within_limits = [this](WorkerTask task) {
    task.input = input_;
    task.seconds_in_all = std::max(1.0, seconds_left());
    return task;
  };
  if (converting_) {
    conversion_->set_seconds_left(seconds_left());
    if (auto task = conversion_->next()) return within_limits(std::move(*task));
    converted();
    if (done_) return std::nullopt;
  }
  reported_end_ = false;
  asked_letters_ = false;
  WorkerTask task = usual_task(*options_);
  CheckWork given{pdf(), input_->name(), options_.get(), next_page_, sizes_, lost_, nullptr, {}, not_to_weed_};
  if (conversion_)
    given.before = BeforePdf{conversion_->sha256(), std::string(conversion_->format()), conversion_->findings(),
                             [this](int page) { return conversion_->member_of(page); }};
  loads_letters_ = false;
  if (letters_ || shared_engine()) add_letters(task, given);
  else task.work = work(given);
  task.keep = kept_descriptors();
  return within_limits(std::move(task));
}

// What a child says is not trusted: what is not of the agreed form is passed over, and the missing end is then told as a death.
void CheckJob::message(Message const& message) {
  if (converting_) return conversion_->message(message);
  if (auto page = received<message::Page>(message)) {
    take_page(std::move(page->page));
  } else if (auto head = received<message::Head>(message)) {
    if (std::exchange(loads_letters_, false) && options_->shared_letters) options_->shared_letters->loaded_by_child();
    if (page_count_ >= 0) return;
    page_count_ = std::max(head->page_count, 0);
    if (!head->usable) trouble_ = ErrorKind::data;
    story_.head({path_.native(), std::move(head->sha256), std::move(head->format), page_count_});
  } else if (auto const end = received<message::End>(message)) {
    findings_.insert(findings_.end(), end->findings.begin(), end->findings.end());
    reported_end_ = true;
  } else if (received<message::AsksLetters>(message)) {
    asked_letters_ = true;
  } else if (auto const draws = received<message::DrawsUnasked>(message)) {
    drawn_ = draws->page;
  } else if (auto no = received<message::NoLetters>(message)) {  // an error of the set-up, not of the file
    fail(ErrorKind::usage, {.check = "reading.unknown", .level = Level::hold, .message = std::move(no->text)});
    reported_end_ = true;
  }
}

void CheckJob::take_page(PageSummary page) {
  if (conversion_) page.member = conversion_->member_of(page.number);
  next_page_ = page.number + 1;
  drawn_ = 0;
  worst_page_ = worse(worst_page_, page.verdict);
  if (page.size) note_size(sizes_, *page.size, options_->target.limits.size_tolerance);
  lost_.reset();
  page_reported(page);
  if (next_page_ > reported_below_) story_.page(std::move(page));
}

void CheckJob::died(WorkerEnd const& end) {
  if (drawn_ > 0 && drawn_ != not_to_weed_) {  // the page is looked at again, without what nobody has asked for
    not_to_weed_ = std::exchange(drawn_, 0);
    return;
  }
  ++deaths_;
  if (page_count_ < 0) {
    story_.head({path_.native(), {}, {}, 0});
    bool const broke = end.how == WorkerEnd::How::crashed;
    findings_.push_back(death_finding(end, *options_, 0));
    if (broke) trouble_ = ErrorKind::data;
    done_ = true;
    return;
  }
  while (next_page_ <= page_count_ && !options_->pages.has(next_page_)) ++next_page_;
  if (next_page_ > page_count_) {
    findings_.push_back(death_finding(end, *options_, 0));
    done_ = true;
    return;
  }
  // The next child tells what the structure says of the page; if even that kills it, the finding stands alone.
  bool const again = lost_.has_value();
  lost_ = death_finding(end, *options_, next_page_);
  if (!again && deaths_ < kMostDeaths) return;
  std::vector<Finding> found{*lost_};
  lost_.reset();
  apply_selection(found, *options_);
  auto reported = page_summary(next_page_, found);
  worst_page_ = worse(worst_page_, reported.verdict);
  if (conversion_) reported.member = conversion_->member_of(next_page_);
  page_reported(reported);
  story_.page(std::move(reported));
  ++next_page_;
  if (deaths_ < kMostDeaths) return;
  Finding rest;
  rest.check = "file.limit";
  rest.level = Level::hold;
  rest.message =
      "after " + std::to_string(deaths_) + " pages that could not be read, the pages from " + std::to_string(next_page_) + " on were not looked at";
  findings_.push_back(rest);
  done_ = true;
}

void CheckJob::end_for_want_of_time() {
  if (page_count_ < 0) story_.head({path_.native(), {}, converting_ ? std::string(conversion_->format()) : std::string(), 0});
  if (converting_) findings_ = conversion_->findings();
  findings_.push_back(limit_finding(RanOut::file_time, page_count_ < 0 ? 0 : next_page_, options_->target.limits));
  converting_ = false;
  done_ = true;
}

void CheckJob::ended(WorkerEnd const& end) {
  seconds_ += end.seconds;
  bool const late = end.in_all || seconds_left() <= 0;
  if (converting_) {
    conversion_->ended(end);
    if (!late) return;
    end_for_want_of_time();
  } else if (late && !(end.how == WorkerEnd::How::finished && reported_end_)) {
    end_for_want_of_time();
  } else if (end.how == WorkerEnd::How::finished && asked_letters_ && !letters_) {
    letters_ = true;
    next_page_ = restart_with_letters(next_page_);
    return;
  } else if (end.how == WorkerEnd::How::finished && reported_end_) {
    done_ = true;
  } else {
    died(end);
  }
  if (!done_) return;
  apply_selection(findings_, *options_);
  FileTail tail;
  tail.findings = findings_;
  tail.verdict = worse(worst_page_, verdict_of(findings_));
  finish(std::move(tail));
}

void CheckJob::finish(FileTail tail) { story_.tail(std::move(tail)); }

}  // namespace layright
