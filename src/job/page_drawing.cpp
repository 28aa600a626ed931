#include "job/page_drawing.h"

#include <cstring>

#include "job/check_work.h"
#include "job/file_job.h"

namespace layright {
namespace {

struct PictureHead {
  std::int32_t width = 0, height = 0;
  bool clear = false;  // after the colours, one byte of alpha a pixel
  double dpi = 0;
};

/// What was drawn has a rim around it; the page's own sight is cut out.
std::string cut_out(PagePicture const& picture, SeenSize seen) {
  double const k = picture.dpi / 72;
  int const left = static_cast<int>(std::lround(-picture.area.x0 * k)), top = static_cast<int>(std::lround((picture.area.y1 - seen.height) * k));
  PictureHead head;
  head.width = static_cast<std::int32_t>(std::lround(seen.width * k));
  head.height = static_cast<std::int32_t>(std::lround(seen.height * k));
  head.clear = !picture.alpha.empty();
  head.dpi = picture.dpi;
  if (left < 0 || top < 0 || left + head.width > picture.width || top + head.height > picture.height) return {};
  std::string bytes(sizeof head, '\0');
  std::memcpy(bytes.data(), &head, sizeof head);
  for (int row = 0; row < head.height; ++row) {
    auto const start = (static_cast<std::size_t>(top + row) * static_cast<std::size_t>(picture.width) + static_cast<std::size_t>(left)) * 3;
    bytes.append(reinterpret_cast<char const*>(picture.rgb.data()) + start, static_cast<std::size_t>(head.width) * 3);
  }
  for (int row = 0; head.clear && row < head.height; ++row) {
    auto const start = static_cast<std::size_t>(top + row) * static_cast<std::size_t>(picture.width) + static_cast<std::size_t>(left);
    bytes.append(reinterpret_cast<char const*>(picture.alpha.data()) + start, static_cast<std::size_t>(head.width));
  }
  return bytes;
}

}  // namespace

std::optional<WorkerTask> DrawingJob::next() {
  auto const with_input = [this](WorkerTask task) {
    task.input = input_;
    task.seconds_in_all = wish_.target.limits.seconds_a_file;
    return task;
  };
  if (conversion_ && !started_)
    if (auto task = conversion_->next()) return with_input(std::move(*task));
  if (std::exchange(started_, true) || (conversion_ && conversion_->pdf().empty())) return std::nullopt;
  WorkerTask task = usual_task(wish_);
  if (conversion_) task.seconds *= conversion_->patience();
  task.work = [this](Sender const& sender) { draw(sender); };
  return with_input(std::move(task));
}

void DrawingJob::ended(WorkerEnd const& end) {
  if (conversion_ && !started_) conversion_->ended(end);
}

void DrawingJob::message(Message const& message) {
  if (conversion_ && !started_) return conversion_->message(message);
  PictureHead head;
  if (message.kind != 'i' || message.bytes.size() < sizeof head) return;
  std::memcpy(&head, message.bytes.data(), sizeof head);
  auto const pixels = message.bytes.size() - sizeof head;
  auto const wanted = static_cast<std::size_t>(std::max(head.width, 0)) * static_cast<std::size_t>(std::max(head.height, 0));
  if (wanted == 0 || !(head.dpi > 0) || pixels != wanted * (head.clear ? 4 : 3)) return;
  picture.emplace();
  picture->width = head.width;
  picture->height = head.height;
  picture->dpi = head.dpi;
  double const k = 72 / head.dpi;
  picture->area = {0, 0, head.width * k, head.height * k};
  auto const colours = message.bytes.begin() + sizeof head, alpha = colours + static_cast<std::ptrdiff_t>(wanted * 3);
  picture->rgb.assign(colours, alpha);
  picture->alpha.assign(alpha, message.bytes.end());
}

void DrawingJob::draw(Sender const& sender) const {
  CheckWork work{conversion_ ? conversion_->pdf() : input_->bytes(), input_->name(), &wish_, 1, {}, {}, nullptr, {}, 0};
  if (conversion_) work.before = BeforePdf{conversion_->sha256(), std::string(conversion_->format()), {}, {}};
  auto const& file = *new OpenedFile(open_file(work, true));  // never freed: the process ends with the file
  if (!file.document || !file.reader || file.document->page_count() < number_) return;
  Page const page = file.document->page(number_);
  if (!page.usable || !page.clockwise) return;
  double const dpi = longest_ * 72 / std::max(page.seen.width, page.seen.height);
  if (auto const drawn = file.reader->picture(page, page.seen.rect(), dpi, clear_)) sender.send('i', cut_out(*drawn, page.seen));
}

std::optional<PagePicture> draw_page_of(std::filesystem::path const& path, int number, int longest, InspectWish const& wish, bool clear) {
  auto input = InputFile::open(path);
  if (!input) return std::nullopt;
  auto const job = std::make_shared<DrawingJob>(*input, number, longest, wish, clear);
  bool given = false;
  run_jobs([&]() -> std::shared_ptr<Job> { return std::exchange(given, true) ? nullptr : job; }, 1);
  return job->picture;
}

}  // namespace layright
