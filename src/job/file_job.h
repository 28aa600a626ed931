// One file through shut-in children: told page by page, and gone on with after a child died.
#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "isolate/input_file.h"
#include "isolate/worker.h"
#include "job/check_work.h"
#include "job/conversion.h"
#include "job/inspect.h"
#include "report/report.h"

namespace layright {

/// Collects what a job tells until its turn has come, then passes it on as it arrives.
class ReportBuffer {
 public:
  void head(FileHead head);
  void page(PageSummary page);
  void tail(FileTail tail);
  /// From now on all goes to `report` at once, what is kept first.
  void release(Report& report);
  bool over() const { return tail_.has_value(); }
  /// That were reported so far, to anybody or not.
  int pages() const { return page_count_; }
  FileHead const& head() const { return head_; }
  FileTail const& tail() const { return *tail_; }

 private:
  FileHead head_;
  bool has_head_ = false;
  std::vector<PageSummary> pages_;
  int page_count_ = 0;
  std::optional<FileTail> tail_;
  Report* report_ = nullptr;
};

/// Checks one file. After the run: story() is whole, trouble() says what made the file unusable.
class CheckJob : public Job {
 public:
  CheckJob(std::filesystem::path path, std::shared_ptr<InspectOptions const> options);
  std::optional<WorkerTask> next() override;
  void message(Message const& message) override;
  void ended(WorkerEnd const& end) override;

  ReportBuffer& story() { return story_; }
  /// data, no_input, io: the file cannot be used. Nothing: it could be looked at.
  std::optional<ErrorKind> trouble() const { return trouble_; }
  /// How many children died over it.
  int deaths() const { return deaths_; }

 protected:
  /// What the child does; pages below `from` are done.
  virtual std::function<void(Sender const&)> work(CheckWork const& work) const;
  /// A page has asked for letters: the next child has the engine, and goes on from `from`, where this one stopped.
  virtual int restart_with_letters(int from) { return from; }
  virtual std::vector<int> kept_descriptors() const { return {}; }
  /// A page is reported, maybe again after restart_with_letters.
  virtual void page_reported(PageSummary const&) {}
  virtual Result<std::shared_ptr<InputFile>> open_file(std::filesystem::path const& path) const { return InputFile::open(path); }
  void take_page(PageSummary page);
  /// All pages were reported, and the child has said its last word.
  virtual void finish(FileTail tail);
  InspectOptions const& options() const { return *options_; }
  InputFile const& input() const { return *input_; }
  std::vector<Finding>& findings() { return findings_; }
  void fail(ErrorKind kind, Finding finding);

  ReportBuffer story_;
  int reported_below_ = 0;  // pages below were told by an earlier child and are passed over when told again

 private:
  bool open_input();
  double seconds_left() const { return options_->target.limits.seconds_a_file - seconds_; }
  /// The file has had all the time that it may have: what it told so far is kept, the rest is held.
  void end_for_want_of_time();
  /// What the pages are read from: the file, or the PDF that was made of it.
  std::span<std::byte const> pdf() const { return conversion_ ? conversion_->pdf() : input_->bytes(); }
  void converted();
  /// Null: none is there for the whole run.
  LetterEngine* shared_engine() const;
  void add_letters(WorkerTask& task, CheckWork const& work);
  void died(WorkerEnd const& end);

  std::filesystem::path path_;
  std::shared_ptr<InspectOptions const> options_;
  std::shared_ptr<InputFile> input_;
  std::unique_ptr<Conversion> conversion_;  // of what is no PDF
  bool converting_ = false;
  std::optional<ErrorKind> trouble_;
  std::vector<Finding> findings_;
  std::vector<SeenSize> sizes_;  // different sizes of usable pages so far
  int page_count_ = -1;          // not known yet
  int next_page_ = 1;
  int deaths_ = 0;
  double seconds_ = 0;               // of processor time that its children took so far
  int drawn_ = 0, not_to_weed_ = 0;  // the page that is drawn unasked; the one at whose drawing a child died
  std::optional<Finding> lost_;      // the page to go on with killed a child
  bool done_ = false, reported_end_ = false;
  bool letters_ = false, asked_letters_ = false;
  bool loads_letters_ = false;  // the child at work loads the engine for itself
  Verdict worst_page_ = Verdict::ready;
};

/// After so many children of one file have died, the rest of its pages is held unread.
inline constexpr int kMostDeaths = 8;

/// What is told of a child that died on `page`; 0 where the file was being opened or ended.
Finding death_finding(WorkerEnd const& end, InspectOptions const& options, int page);

/// The usual address-space, output and time limits for a task with these options.
WorkerTask usual_task(InspectOptions const& options);

}  // namespace layright
