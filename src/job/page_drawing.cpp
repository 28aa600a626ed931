#include "job/page_drawing.h"

#include <cmath>
#include <cstdint>
#include <utility>
#include <vector>

#include "job/check_work.h"
#include "job/file_job.h"
#include "job/messages.h"

namespace layright {
namespace {

/// What was drawn has a rim around it; the page's own sight is cut out. Nothing where that does not lie in it.
std::optional<PagePicture> cut_out(PagePicture const& picture, SeenSize seen) {
  double const k = picture.dpi / 72;
  int const left = static_cast<int>(std::lround(-picture.area.x0 * k)), top = static_cast<int>(std::lround((picture.area.y1 - seen.height) * k));
  PagePicture cut;
  cut.width = static_cast<int>(std::lround(seen.width * k));
  cut.height = static_cast<int>(std::lround(seen.height * k));
  cut.dpi = picture.dpi;
  cut.area = {0, 0, cut.width / k, cut.height / k};
  if (left < 0 || top < 0 || left + cut.width > picture.width || top + cut.height > picture.height) return std::nullopt;
  auto const rows = [&](std::vector<std::uint8_t> const& from, std::vector<std::uint8_t>& into, std::ptrdiff_t channels) {
    for (int row = top; !from.empty() && row < top + cut.height; ++row) {
      auto const start = from.begin() + (static_cast<std::ptrdiff_t>(row) * picture.width + left) * channels;
      into.insert(into.end(), start, start + cut.width * channels);
    }
  };
  rows(picture.rgb, cut.rgb, 3);
  rows(picture.alpha, cut.alpha, 1);
  return cut;
}

}  // namespace

std::optional<WorkerTask> DrawingJob::next() {
  auto const with_input = [this](WorkerTask task) {
    task.input = input_;
    task.seconds_in_all = options_.target.limits.seconds_a_file;
    return task;
  };
  if (conversion_ && !started_)
    if (auto task = conversion_->next()) return with_input(std::move(*task));
  if (std::exchange(started_, true) || (conversion_ && conversion_->pdf().empty())) return std::nullopt;
  WorkerTask task = usual_task(options_);
  if (conversion_) task.seconds *= conversion_->patience();
  task.work = [this](Sender const& sender) { draw(sender); };
  return with_input(std::move(task));
}

void DrawingJob::ended(WorkerEnd const& end) {
  if (conversion_ && !started_) conversion_->ended(end);
}

void DrawingJob::message(Message const& message) {
  if (conversion_ && !started_) return conversion_->message(message);
  if (auto drawn = received<message::Picture>(message)) picture = std::move(drawn->picture);
}

void DrawingJob::draw(Sender const& sender) const {
  CheckWork work{conversion_ ? conversion_->pdf() : input_->bytes(), input_->name(), &options_, 1, {}, {}, nullptr, {}, 0};
  if (conversion_) work.before = BeforePdf{conversion_->sha256(), std::string(conversion_->format()), {}, {}};
  auto const& file = *new OpenedFile(open_file(work, true));  // never freed: the process ends with the file
  if (!file.document || !file.reader || file.document->page_count() < number_) return;
  Page const page = file.document->page(number_);
  if (!page.usable || !page.clockwise) return;
  double const dpi = longest_ * 72 / std::max(page.seen.width, page.seen.height);
  auto const drawn = file.reader->picture(page, page.seen.rect(), dpi, clear_);
  if (!drawn) return;
  if (auto cut = cut_out(*drawn, page.seen)) send_message(sender, message::Picture{std::move(*cut)});
}

std::optional<PagePicture> draw_page_of(std::filesystem::path const& path, int number, int longest, InspectOptions const& options, bool clear) {
  auto input = InputFile::open(path);
  if (!input) return std::nullopt;
  auto const job = std::make_shared<DrawingJob>(*input, number, longest, options, clear);
  bool given = false;
  run_jobs([&]() -> std::shared_ptr<Job> { return std::exchange(given, true) ? nullptr : job; }, 1);
  return job->picture;
}

}  // namespace layright
