// Sends one job and stays with it to its end. A job is looked for before it is sent again, so that a broken line never prints twice.
#pragma once
#include <functional>
#include <string>

#include "setup/service.h"
#include "setup/setting.h"

namespace layright {

struct SendWish {
  std::string address;
  SendRequest request;
  int tries = 4;                     // of sending, where the line breaks
  double wait_seconds = 1800;        // for the job's end
  std::function<void(JobStatus const&, std::vector<std::string> const& troubles)> progress;  // when something changed; may be empty
  bool may_be_there = false;         // an earlier sending of this name may have got through: look for it first
};

/// The attributes of a target as this press will take them: what it does not offer at all and nobody asked for in the press's table
/// is left out, and margins become the nearest that it offers inside the sheet's own.
std::vector<IppMember> fitted_attributes(Target const& target, Offer const& offer);
/// For a queue with a PPD: its options, the copies, and what keeps the queue's filters from scaling, turning or reversing the page.
std::vector<std::pair<std::string, std::string>> queue_options(Target const& target, PressSetup const& setup);

/// A job's name: the file's, cut to RFC 8011's 255 bytes, and a mark that no other sending has.
std::string job_name(std::string const& file_name, std::string const& mark);

/// The job's state when it ended, was held, or the waiting ran out. Errors: try_again where the press could not be reached (the message says
/// whether the job is there), hold where it refused or substituted something (the job is cancelled then).
Result<JobStatus> send_job(SendWish const& wish);

}  // namespace layright
