// Brings the bytes of a large file to another disk before it is moved there, in a child, so that the watcher goes on with its other work.
#pragma once
#include <memory>
#include <optional>
#include <string>

#include "base/unique_fd.h"
#include "isolate/worker.h"
#include "watch/ledger.h"
#include "write/output_file.h"

namespace layright {

class CopyAhead : public Job {
 public:
  /// `source` (-1: there is none) stays open for as long as the job lives; `folder`: where the copy goes; nothing: only what was written to
  /// the source is brought to the disk, which for a large file takes as long.
  CopyAhead(int source, std::optional<std::filesystem::path> const& folder);
  /// Copies nothing: only reads what lies there.
  static std::shared_ptr<CopyAhead> reading(int there);
  /// After a death: what lies where it goes (-1: nothing) is read first, and copied only where those are other bytes than its own.
  void look_first_at(int there, std::string const& digest);

  std::optional<WorkerTask> next() override;
  void message(Message const& message) override;
  void ended(WorkerEnd const&) override { over_ = true; }

  bool over() const { return over_; }
  /// Once it is over: the copy, read back and found to have these bytes. Null where none could be made; then the move makes one and tells why not.
  OutputFile* copy_of(std::string const& digest);
  /// Once it is over: the digest of what lay there, and its mark before it was read. Empty where it was not read.
  std::string const& digest_there() const { return digest_there_; }
  FileMark const& mark_there() const { return mark_there_; }

 private:
  void work(Sender const& sender) const;
  /// Whether there is nothing left to copy.
  bool is_there(Sender const& sender) const;
  UniqueFd source_, there_;
  std::optional<OutputFile> copy_;
  std::string digest_;  // that the child has read back
  std::string wanted_, digest_there_;
  FileMark mark_there_;
  bool started_ = false, over_ = false;
};

/// Whether a file of `bytes` is large enough for a child of its own.
bool worth_copying_ahead(long long bytes);

}  // namespace layright
