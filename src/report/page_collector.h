// Hands a report on to another one, and keeps what a proof needs of its pages.
#pragma once
#include "report/report.h"

namespace layright {

class PageCollector : public Report {
 public:
  /// Keeps the first `most` pages of the run.
  PageCollector(Report& next, std::size_t most) : next_(next), most_(most) {}
  void begin_file(FileHead const& head) override { next_.begin_file(head); }
  void page(PageSummary const& page) override {
    if (pages_.size() < most_) pages_.push_back(page);
    next_.page(page);
  }
  void end_file(FileHead const& head, FileTail const& tail) override {
    findings_ = tail.findings;
    next_.end_file(head, tail);
  }
  void end_run(Verdict verdict) override { next_.end_run(verdict); }

  std::vector<PageSummary> const& pages() const { return pages_; }
  std::vector<Finding> const& findings() const { return findings_; }

 private:
  Report& next_;
  std::size_t most_;
  std::vector<PageSummary> pages_;
  std::vector<Finding> findings_;
};

}  // namespace layright
