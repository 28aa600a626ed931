// Puts pages that were laid alone on sheets: writes them, proves each piece, puts the white plate on where the target wants one. The output gets
// its name only from whoever takes it.
#pragma once
#include <cstdio>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "isolate/worker.h"
#include "job/gang_work.h"
#include "job/kept_file.h"
#include "write/output_file.h"

namespace layright {

struct KeptLaidFile {
  std::string name;
  std::shared_ptr<KeptFile const> pdf;
};

/// `plates`: where white plates go that get a file of their own.
class GangJob : public Job {
 public:
  GangJob(std::vector<KeptLaidFile> files, GangPlan plan, std::shared_ptr<InspectOptions const> options, OutputFile output,
          std::optional<OutputFile> plates = std::nullopt);
  ~GangJob() override;
  std::optional<WorkerTask> next() override;
  void message(Message const& message) override;
  void ended(WorkerEnd const& end) override;

  /// Why there are no sheets. Kinds: hold, data, io, internal. Nothing: they are written and proved.
  std::optional<Error> const& trouble() const { return trouble_; }
  /// Of the white plates.
  std::vector<Finding> const& findings() const { return plated_.findings; }
  OutputFile take_output() { return std::move(output_); }
  std::optional<OutputFile> take_plates() { return std::move(plates_); }

 private:
  enum class Step { write, prove, plate, over };
  WorkerTask task() const;
  bool wants_plate() const;
  bool all_traced() const;
  int sheets() const { return unplated_ ? fileno(unplated_) : output_.descriptor(); }
  void fail(ErrorKind kind, std::string why);

  std::vector<KeptLaidFile> files_;
  GangPlan plan_;
  std::shared_ptr<InspectOptions const> options_;
  OutputFile output_;
  std::optional<OutputFile> plates_;
  std::FILE* joined_ = nullptr;
  std::FILE* tape_ = nullptr;
  std::FILE* unplated_ = nullptr;
  std::vector<Verification> traced_, sheets_;
  message::Plated plated_;
  std::optional<Error> trouble_;
  bool told_ = false;  // the child of this step has said how it ended
  Step step_ = Step::write;
};

}  // namespace layright
