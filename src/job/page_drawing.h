// A small picture of a page, drawn in a shut-in child.
#pragma once
#include <filesystem>
#include <memory>
#include <optional>

#include "isolate/input_file.h"
#include "isolate/worker.h"
#include "job/conversion.h"
#include "job/inspect.h"

namespace layright {

/// Draws all that is seen of one page, in a child.
class DrawingJob : public Job {
 public:
  /// At most `longest` pixels a side; `clear`: on nothing instead of white. `options` gives the limits and must outlive the job.
  DrawingJob(std::shared_ptr<InputFile> input, int number, int longest, InspectOptions const& options, bool clear = false)
      : input_(std::move(input)),
        number_(number),
        longest_(longest),
        clear_(clear),
        options_(options),
        conversion_(conversion_of(recognise(input_->head()), input_->bytes(), input_->name(), options)) {}
  std::optional<WorkerTask> next() override;
  void message(Message const& message) override;
  void ended(WorkerEnd const& end) override;

  /// Nothing when the page cannot be drawn within the limits.
  std::optional<PagePicture> picture;

 private:
  void draw(Sender const& sender) const;
  std::shared_ptr<InputFile> input_;
  int number_, longest_;
  bool clear_;
  InspectOptions const& options_;
  std::unique_ptr<Conversion> conversion_;  // of what is no PDF
  bool started_ = false;
};

/// All that is seen of page `number`, at most `longest` pixels a side; `clear`: on nothing instead of white. Nothing when the page cannot be
/// drawn within the limits of `options`.
std::optional<PagePicture> draw_page_of(std::filesystem::path const& path, int number, int longest, InspectOptions const& options,
                                        bool clear = false);

}  // namespace layright
