// A picture, a drawing, or what is refused: one file that is no PDF, on its way to one.
#pragma once
#include "job/conversion.h"
#include "job/drawing_work.h"

namespace layright {

class FileConversion : public Conversion {
 public:
  /// `room`: bytes by which it is chosen where to keep what it becomes (nameless_file).
  FileConversion(Recognised recognised, std::span<std::byte const> bytes, std::string name, InspectOptions const& options, std::size_t room);
  std::optional<WorkerTask> next() override;
  void message(Message const& message) override;
  void ended(WorkerEnd const& end) override;

 private:
  enum class Step { look, make, over };
  WorkerTask refusal_task() const;
  WorkerTask picture_task() const;
  /// Drawings take two children: one looks at the file, one runs the program that draws it, and finishes what that wrote.
  WorkerTask plan_task() const;
  WorkerTask drawing_task() const;

  Step step_ = Step::look;
  DrawingFiles drawing_;
  std::optional<DrawingPlan> plan_;
};

}  // namespace layright
