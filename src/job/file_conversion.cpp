#include "job/file_conversion.h"

#include <unistd.h>

#include <algorithm>
#include <utility>

#include "check/trouble.h"
#include "convert/pictures.h"
#include "isolate/input_file.h"
#include "job/file_job.h"

namespace layright {
namespace {

PictureOptions picture_options(Target const& target) {
  return {target.pixels_per_inch, target.limits.least_density, target.limits.most_density, target.limits.most_megapixels * 1e6};
}

bool is_drawing(Format format) { return format == Format::eps || format == Format::postscript || format == Format::svg; }

}  // namespace

FileConversion::FileConversion(Recognised recognised, std::span<std::byte const> bytes, std::string name, InspectOptions const& options,
                               std::size_t room)
    : Conversion(std::move(recognised), bytes, std::move(name), options, nameless_file(room)) {
  if (!is_drawing(recognised_.format)) return;
  drawing_ = {nameless_file(room), nameless_file(room), nameless_file(0)};
}

WorkerTask FileConversion::refusal_task() const {
  WorkerTask task = usual_task(options_);
  task.work = [this](Sender const& sender) {
    OriginalFile const source{
        Format::refused, name_, {}, {{ConversionNote::Kind::refused, "it is " + recognised_.what + ", which is not taken: " + recognised_.ask}}};
    report_conversion(source, bytes_, options_, false, sender);
  };
  return task;
}

WorkerTask FileConversion::picture_task() const {
  WorkerTask task = usual_task(options_);
  auto const reader = std::make_shared<PictureReader>();
  task.prepare = [reader, format = recognised_.format] { *reader = prepare_picture_reader(format); };
  task.keep = {output_.get()};
  task.work = [this, reader](Sender const& sender) {
    OriginalFile source{recognised_.format, name_, {}, {}};
    // What was read of the file and is written by then is not needed any more.
    auto const alive = [&] {
      send_message(sender, message::Alive{});
      drop_cached_pages(bytes_);
    };
    auto const made = pictures_to_pdf(*reader, bytes_, picture_options(options_.target), output_.get(), source, alive);
    if (!made) source.remarks.insert(source.remarks.begin(), remark_of(made.error()));
    report_conversion(source, bytes_, options_, made.has_value(), sender);
  };
  return task;
}

WorkerTask FileConversion::plan_task() const {
  WorkerTask task = usual_task(options_);
  task.keep = {drawing_.source.get()};
  task.work = [this](Sender const& sender) {
    OriginalFile source{recognised_.format, name_, {}, {}};
    auto plan = plan_drawing(recognised_.format, bytes_, drawing_, source);
    if (plan) return send_message(sender, message::Plan{std::move(*plan)});
    source.remarks.insert(source.remarks.begin(), remark_of(plan.error()));
    report_conversion(source, bytes_, options_, false, sender);
  };
  return task;
}

WorkerTask FileConversion::drawing_task() const {
  WorkerTask task = usual_task(options_);
  task.keep = {output_.get(), drawing_.source.get(), drawing_.made.get(), drawing_.said.get()};
  auto program = drawing_program(recognised_.format, *plan_, drawing_, options_.target.limits);
  program.seconds = std::clamp(program.seconds, 1.0, std::max(1.0, seconds_left_));
  task.seconds = std::max(task.seconds, program.seconds / 2);  // waiting for the program is counted by the clock, ten times as long
  task.waiting_counts = true;  // a program that never ends costs the file its time, whether or not the machine gives it turns
  auto const ran = std::make_shared<Outcome>(done());
  task.prepare = [program, ran] {
    lseek(program.input, 0, SEEK_SET);
    *ran = run_shut_in(program);
  };
  task.work = [this, ran](Sender const& sender) {
    OriginalFile source{recognised_.format, name_, {}, {}};
    auto const made = finish_drawing(recognised_.format, *plan_, *ran, drawing_, options_.target, output_.get(), source);
    if (!made) source.remarks.insert(source.remarks.begin(), remark_of(made.error()));
    report_conversion(source, bytes_, options_, made.has_value(), sender);
  };
  return task;
}

std::optional<WorkerTask> FileConversion::next() {
  if (step_ == Step::over || !has_room()) return std::nullopt;
  if (recognised_.format == Format::refused) return refusal_task();
  if (!is_drawing(recognised_.format)) return picture_task();
  if (step_ == Step::look) return plan_task();
  return drawing_task();
}

void FileConversion::message(Message const& message) {
  if (auto const word = received<message::Converted>(message)) return take_last_word(*word);
  auto plan = received<message::Plan>(message);
  if (plan && step_ == Step::look) plan_ = std::move(plan->plan);
}

void FileConversion::ended(WorkerEnd const& end) {
  if (end.how == WorkerEnd::How::finished && step_ == Step::look && plan_ && !reported_) {
    step_ = Step::make;
    return;
  }
  step_ = Step::over;
  take_page(end);
  drawing_ = {};
}

}  // namespace layright
