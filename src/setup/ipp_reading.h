// What a press answered, as plain values. For service.cpp, and for the fuzzer: whatever came over the line, nothing here fails.
#pragma once
#include <cups/ipp.h>

#include <string>
#include <utility>
#include <vector>

#include "setup/service.h"

namespace layright {

/// Of Get-Printer-Attributes; `is_queue` is not told there.
Offer offer_from(ipp_t* reply);
/// Of Print-Job: job 0 where it tells no number.
SendReply send_reply_from(ipp_t* reply);
/// Of CUPS-Get-Printers: each queue's name and what it says of itself.
std::vector<std::pair<std::string, Offer>> queues_from(ipp_t* reply);
/// Of Get-Jobs: all that have a number.
std::vector<FoundJob> jobs_from(ipp_t* reply);
/// Of Get-Job-Attributes; `id` is not read.
JobStatus job_status_from(ipp_t* reply);
/// printer-state-reasons in plain words (state_words.h).
std::vector<std::string> troubles_from(ipp_t* reply);

}  // namespace layright
