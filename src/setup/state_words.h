// What presses say of themselves and of their jobs, in plain words.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "setup/service.h"

namespace layright {

std::string_view word(JobState state);
/// A keyword of printer-state-reasons (RFC 8011, 5.4.12; its -report, -warning, -error ending is dropped); what is not known stays as it is.
std::string state_reason_words(std::string const& reason);
/// A keyword of job-state-reasons (RFC 8011, 5.3.8; PWG 5100.13); empty where the job's state says it all, else as above.
std::string job_reason_words(std::string const& reason);
/// "job 3: held: it is held until somebody releases it; the press says: …; the tray is empty". Not fit for a terminal: a press may say anything.
std::string job_words(JobStatus const& status, std::vector<std::string> const& troubles = {});

}  // namespace layright
