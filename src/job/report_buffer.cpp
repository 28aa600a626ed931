#include "job/file_job.h"

namespace layright {

void ReportBuffer::head(FileHead head) {
  head_ = std::move(head);
  has_head_ = true;
  if (report_) report_->begin_file(head_);
}

void ReportBuffer::page(PageSummary page) {
  ++page_count_;
  if (report_) report_->page(page);
  else pages_.push_back(std::move(page));
}

void ReportBuffer::tail(FileTail tail) {
  tail_ = std::move(tail);
  if (report_) report_->end_file(head_, *tail_);
}

void ReportBuffer::release(Report& report) {
  if (report_) return;
  report_ = &report;
  if (has_head_) report.begin_file(head_);
  for (auto const& p : pages_) report.page(p);
  pages_ = {};
  if (tail_) report.end_file(head_, *tail_);
}

}  // namespace layright
