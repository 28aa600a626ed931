// Sends one job and stays with it to its end. A job is looked for before it is sent again, so that a broken line never prints twice.
#pragma once
#include <functional>
#include <string>

#include "setup/service.h"
#include "setup/setting.h"

namespace layright {

struct SendOptions {
  SendRequest request;
  int tries = 4;                                                                             // of sending, where the line breaks
  double wait_seconds = 1800;                                                                // for the job's end
  std::function<void(JobStatus const&, std::vector<std::string> const& troubles)> progress;  // when something changed; may be empty
  std::function<void(JobStatus const&)> waiting;                                             // each time that the press was asked; may be empty
  bool may_be_there = false;  // an earlier sending of this name may have got through: look for it first
};

/// A job's name: the file's, cut to RFC 8011's 255 bytes, and a mark that no other sending has.
std::string job_name(std::string const& file_name, std::string const& mark);

/// A job that the press took, or may have.
struct SentJob : JobStatus {
  std::string lost;  // why its end is not known, in plain words; id 0: not even whether the press has it. Empty: the state is its last
};

/// The job's state when it ended, was held, or the waiting ran out. Errors: try_again where nothing was accepted, hold where the press refused
/// or substituted something (the job is cancelled then) or asks for a login. All tries together have the service's time, and what came before them
/// counts as well; following the job does not.
Result<SentJob> send_job(PrintService& service, SendOptions const& options);

/// How many sheets more came out than were asked for: above 0 spoiled film, below 0 missing film, 0 where they agree or nobody counted.
/// `counts`: none counted means that none came out.
int sheets_off(JobStatus const& status, int asked, bool counts);
/// The same in plain words; empty for 0.
std::string sheet_trouble(JobStatus const& status, int asked, bool counts);

}  // namespace layright
