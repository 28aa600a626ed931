// Sends one laid file to its press, in a child that may use the network and reads nothing of the customer's.
#pragma once
#include <string>

#include "isolate/worker.h"
#include "sheet/configuration.h"
#include "watch/ledger.h"

namespace layright {

struct SendJobOptions {
  LedgerEntry entry;                    // send_name is set
  bool may_be_there = false;            // an earlier try may have got through
  std::string laid;                     // the file
  int sheets = 0;                       // that are to come out; 0: not known
  Target target;                        // its render and copies settled
  std::filesystem::path configuration;  // for what was approved
  Unit unit = Unit::inch;
  double wait_seconds = 1800;
};

class SendJob : public Job {
 public:
  explicit SendJob(SendJobOptions options) : options_(std::move(options)) {}
  std::optional<WorkerTask> next() override;
  void message(Message const& message) override;
  void ended(WorkerEnd const&) override { over_ = true; }

  LedgerEntry const& entry() const { return options_.entry; }
  bool over() const { return over_; }
  enum class End { sent, refused, later } end = End::later;  // later: the press could not be reached, or the child died
  std::string reported;                                      // what the press said, in plain words
  int press_job = 0;
  int sheets_off = 0;  // above 0: so many more came out than were asked for (spoiled film); below: so many are missing

 private:
  void work(Sender const& sender) const;
  SendJobOptions options_;
  bool started_ = false, over_ = false;
};

/// What the press calls the job of an output: unique to this sending, the same when it is tried again.
std::string send_name(LedgerEntry const& entry, LedgerOutput const& laid);

}  // namespace layright
