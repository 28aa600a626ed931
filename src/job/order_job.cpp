#include "job/order_job.h"

#include <utility>

#include "job/file_job.h"
#include "job/plate_work.h"

namespace layright {

/// Looks at sheets that have no name yet.
class OrderJob::SheetsCheck : public CheckJob {
 public:
  SheetsCheck(int descriptor, std::filesystem::path const& path, std::shared_ptr<InspectOptions const> options)
      : CheckJob(path, std::move(options)), descriptor_(descriptor) {}

 protected:
  Result<std::shared_ptr<InputFile>> open_file(std::filesystem::path const& path) const override { return InputFile::of(descriptor_, path); }

 private:
  int descriptor_;
};

OrderJob::OrderJob(OrderJobOptions options)
    : options_(std::move(options)), pieces_(options_.order, *options_.inspect, options_.ganged, options_.sheets) {
  if (auto const meant = pieces_.check(); !meant) {
    trouble_ = meant.error();
    step_ = Step::over;
  }
}

OrderJob::~OrderJob() = default;

void OrderJob::more() {
  switch (step_) {
    case Step::lay:
      if (auto laying = pieces_.next()) add(std::move(laying));
      else write();
      break;
    case Step::write: look(); break;
    case Step::look: take_look(); break;
    case Step::over: break;
  }
}

void OrderJob::write() {
  step_ = Step::over;
  if (!pieces_.all_ready()) return;
  auto const& target = options_.inspect->target;
  auto plan = plan_gang(pieces_.wanted_pages(), target, options_.ganged, options_.inspect->unit);
  if (plan && options_.only_sheet > 0) plan = only_sheet(std::move(*plan), options_.only_sheet);
  auto sheets = plan ? OutputFile::create(options_.sheets, false, {}) : Result<OutputFile>(plan.error());
  if (!sheets) {
    trouble_ = sheets.error();
    return;
  }
  std::optional<OutputFile> plates;
  if (wants_plate(target, PlateAs::file)) {
    auto made = OutputFile::create(options_.plates, false, {});
    if (!made) {
      trouble_ = made.error();
      return;
    }
    plates.emplace(std::move(*made));
  }
  report_ = plan->report;
  gang_ = std::make_shared<GangJob>(pieces_.take_files(), std::move(*plan), options_.inspect, std::move(*sheets), std::move(plates));
  add(gang_);
  step_ = Step::write;
}

void OrderJob::look() {
  step_ = Step::over;
  trouble_ = gang_->trouble();
  if (trouble_) return gang_.reset();
  sheets_.emplace(gang_->take_output());
  plates_ = gang_->take_plates();
  gang_.reset();
  written_ = true;
  auto options = std::make_shared<InspectOptions>();
  options->target = options_.inspect->target;
  options->unit = options_.inspect->unit;
  check_ = std::make_shared<SheetsCheck>(sheets_->descriptor(), options_.sheets, std::move(options));
  add(check_);
  step_ = Step::look;
}

void OrderJob::take_look() {
  step_ = Step::over;
  check_->story().release(*report_into(known_));
  check_.reset();
  known_.file.pages = report_.sheets;  // plates are no sheets of their own
}

}  // namespace layright
