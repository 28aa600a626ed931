// A file that is no PDF, on its way to one: in shut-in children, into a file that no name leads to.
#pragma once
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "document/source.h"
#include "intake/drawing_work.h"
#include "intake/inspect.h"
#include "intake/worker.h"

namespace layright {

class Conversion {
 public:
  /// `bytes` must outlive it; `name` is what the person calls the file.
  Conversion(Recognised recognised, std::span<std::byte const> bytes, std::string name, InspectWish const& wish);
  ~Conversion();
  Conversion(Conversion const&) = delete;
  Conversion& operator=(Conversion const&) = delete;

  /// Like a job's: tasks in a row, nothing once it is over.
  std::optional<WorkerTask> next();
  void message(Message const& message);
  void ended(WorkerEnd const& end);

  /// The whole PDF; empty where there is none. What came of it else is in the findings.
  std::span<std::byte const> pdf() const { return pdf_; }
  std::string const& sha256() const { return sha256_; }  // of the bytes as they came; empty where nobody could tell
  std::vector<Finding> const& findings() const { return findings_; }
  std::string_view format() const { return word(recognised_.format); }
  /// How much more time than usual a page of it may take, for its many pixels.
  double patience() const { return patience_; }
  /// It is of no kind that is taken.
  bool refused() const { return refused_; }

 private:
  enum class Step { look, make, over };
  WorkerTask refusal_task() const;
  WorkerTask picture_task() const;
  /// Drawings take two children: one looks at the file, one runs the program that draws it, and finishes what that wrote.
  WorkerTask plan_task() const;
  WorkerTask drawing_task() const;
  void fail(Finding finding);

  Recognised recognised_;
  std::span<std::byte const> bytes_;
  std::string name_;
  InspectWish const& wish_;
  Step step_ = Step::look;
  int output_ = -1;
  DrawingFiles drawing_;
  std::optional<Json> plan_;
  bool told_ = false, made_ = false, refused_ = false;
  std::span<std::byte const> pdf_;
  std::string sha256_;
  std::vector<Finding> findings_;
  double patience_ = 1;
};

/// Null where the bytes are a PDF, or of no kind that is known.
std::unique_ptr<Conversion> conversion_of(std::span<std::byte const> bytes, std::string const& name, InspectWish const& wish);

}  // namespace layright
