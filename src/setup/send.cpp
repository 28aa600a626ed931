#include "setup/send.h"

#include <algorithm>
#include <chrono>
#include <thread>

#include "base/utf8.h"

namespace layright {
namespace {

using Clock = std::chrono::steady_clock;
constexpr int kMostFaults = 20;            // in a row, while waiting
constexpr std::size_t kLongestName = 255;  // RFC 8011, 5.1.3

/// A little longer each time: 0.3, 0.6, 1.2 … at most 5 seconds.
double pause_before(int try_number) { return std::min(0.3 * (1 << std::min(try_number - 1, 4)), 5.0); }

Error refused_substitutes(PrintService& service, SendReply const& reply) {
  std::string list;
  for (auto const& name : reply.unsupported) list += (list.empty() ? "" : ", ") + name;
  auto const cancelled = service.cancel(reply.job);
  return Error{ErrorKind::hold, "the press took job " + std::to_string(reply.job) + " but would not honor " + list +
                                    (cancelled ? "; the job was canceled" : "; it could not be canceled: stop it at the press")};
}

/// Sends until the press has the job, and never while it may have it already.
Result<SentJob> deliver(PrintService& service, SendOptions const& options) {
  Error last{ErrorKind::try_again, "nothing was tried"};
  bool may_be_there = options.may_be_there;
  auto const sent = [](int id) {
    SentJob job;
    job.id = id;
    return job;
  };
  for (int n = 0; n < options.tries; ++n) {
    if (n > 0 && !service.wait(pause_before(n))) break;
    if (may_be_there) {
      auto const found = service.find_job(options.request.job_name);
      if (!found) {
        last = found.error();
        continue;
      }
      if (*found) return sent(**found);
    } else if (auto const taken = service.validate(options.request); !taken) {
      if (taken.error().kind != ErrorKind::try_again) return taken.error();
      last = taken.error();
      continue;
    }
    auto const reply = service.send(options.request);
    if (reply && reply->unsupported.empty() && reply->job <= 0) {
      last = Error{ErrorKind::hold, "the press took the file without giving it a job number"};
      may_be_there = true;
      if (auto const found = service.find_job(options.request.job_name); found && *found) return sent(**found);
      break;
    }
    if (reply && reply->unsupported.empty()) return sent(reply->job);
    if (reply) return refused_substitutes(service, *reply);
    if (reply.error().kind != ErrorKind::try_again) return reply.error();
    last = reply.error();
    may_be_there = !service.answered();
  }
  if (!may_be_there) return last;
  SentJob perhaps;
  perhaps.lost = last.message + "; the press may have the job (" + options.request.job_name + "): look before you send it again";
  return perhaps;
}

SentJob follow(PrintService& service, SendOptions const& options, int id) {
  auto const end = Clock::now() + std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(options.wait_seconds));
  SentJob last;
  last.id = id;
  std::vector<std::string> last_troubles;
  int faults = 0;
  bool reported = false;
  auto const hear = [&](JobStatus const& now, std::vector<std::string> const& troubles) {
    faults = 0;
    if (options.progress && (!reported || now.state != last.state || now.reasons != last.reasons || troubles != last_troubles))
      options.progress(now, troubles);
    if (options.waiting) options.waiting(now);
    reported = true;
    static_cast<JobStatus&>(last) = now;
    last_troubles = troubles;
  };
  while (true) {
    double const left = std::chrono::duration<double>(end - Clock::now()).count();
    auto const followed = service.follow(id, std::max(left, 0.0), hear);
    if (reported && has_ended(last.state)) return last;
    if (!followed && (followed.error().kind != ErrorKind::try_again || ++faults > kMostFaults || (!reported && Clock::now() >= end))) {
      last.lost = "job " + std::to_string(id) + " was sent, but its end is not known: " + followed.error().message + "; look at the press";
      return last;
    }
    if (Clock::now() >= end) return last;
    std::this_thread::sleep_for(PrintService::kPoll);
  }
}

}  // namespace

std::string job_name(std::string const& file_name, std::string const& mark) {
  std::string const ending = " [" + mark + "]";
  return std::string(utf8_prefix(file_name, kLongestName - std::min(kLongestName, ending.size()))) + ending;
}

Result<SentJob> send_job(PrintService& service, SendOptions const& options) {
  auto sent = deliver(service, options);
  if (!sent || sent->id <= 0) return sent;
  return follow(service, options, sent->id);
}

int sheets_off(JobStatus const& status, int asked, bool counts) {
  if (status.state != JobState::completed || !status.sheets || (*status.sheets == 0 && !counts)) return 0;
  return *status.sheets - asked;
}

std::string sheet_trouble(JobStatus const& status, int asked, bool counts) {
  int const off = sheets_off(status, asked, counts);
  if (off == 0) return {};
  auto const sheets = [](int n) { return std::to_string(n) + (n == 1 ? " sheet" : " sheets"); };
  std::string const text = sheets(*status.sheets) + " came out, and " + sheets(asked) + (asked == 1 ? " was" : " were") + " asked for: ";
  return off < 0 ? text + "look for what is missing before you send it again"
                 : text + "look for spoiled film (a banner page, or a default of the press), and take it out of the stack";
}

}  // namespace layright
