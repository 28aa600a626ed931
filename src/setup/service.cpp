#include "setup/service.h"

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <thread>

#include "geometry/length.h"
#include "setup/ipp_line.h"
#include "setup/ipp_reading.h"
#include "setup/ppd_lines.h"
#include "setup/service_fields.h"
#include "setup/talk.h"

namespace layright {
namespace {

using Clock = std::chrono::steady_clock;
constexpr double kToLookAgain = 5;         // seconds, for a job that may have got there
constexpr double kSecondsPerMegabyte = 1;  // the slowest line that a file is sent over without being given up

double seconds_since(Clock::time_point begun) { return std::chrono::duration<double>(Clock::now() - begun).count(); }

/// What a child tells of a question: the answer, or why there is none.
template <class T>
struct Packed {
  std::optional<T> answer;
  bool held = false;  // the error's kind: hold, else try_again
  std::string message;
  IppManner manner;
};

template <class T>
auto fields(Packed<T>& t) {
  return std::tie(t.answer, t.held, t.message, t.manner.wants_login, t.manner.answered);
}

template <class T>
std::string packed(Result<T> const& result, IppManner const& manner = {}) {
  Packed<T> reported;
  reported.manner = manner;
  if (result) {
    reported.answer.emplace(*result);
  } else {
    reported.held = result.error().kind == ErrorKind::hold;
    reported.message = result.error().message;
  }
  ByteWriter to;
  part(to, reported);
  return to.take();
}

template <class T>
std::optional<Result<T>> unpacked(std::string const& report, IppManner& manner) {
  Packed<T> reported;
  ByteReader from(report);
  part(from, reported);
  if (!from.whole()) return std::nullopt;
  manner = reported.manner;
  if (reported.answer) return Result<T>(std::move(*reported.answer));
  return Result<T>(Error{reported.held ? ErrorKind::hold : ErrorKind::try_again, std::move(reported.message)});
}

char const* end_words(TalkEnd end) {
  switch (end) {
    case TalkEnd::out_of_time: return "gave no whole answer in time";
    case TalkEnd::broken: return "gave an answer that cannot be read: it is far too long, or broken";
    case TalkEnd::not_started: return "was not asked, because no process could be started for it";
    default: return "gave no answer";
  }
}

Ipp job_request(IppLine& line, ipp_op_t operation, int id) {
  auto request = line.request(operation);
  ippAddInteger(request.get(), IPP_TAG_OPERATION, IPP_TAG_INTEGER, "job-id", id);
  return request;
}

Ipp print_request(IppLine& line, ipp_op_t operation, SendRequest const& options) {
  auto request = line.request(operation);
  ippAddString(request.get(), IPP_TAG_OPERATION, IPP_TAG_NAME, "job-name", nullptr, options.job_name.c_str());
  ippAddString(request.get(), IPP_TAG_OPERATION, IPP_TAG_MIMETYPE, "document-format", nullptr, options.document_format.c_str());
  ippAddBoolean(request.get(), IPP_TAG_OPERATION, "ipp-attribute-fidelity", 1);
  add_attributes(request.get(), options);
  return request;
}

Result<JobStatus> ask_job(IppLine& line, int id) {
  auto reply = line.ask(job_request(line, IPP_OP_GET_JOB_ATTRIBUTES, id), "asking after job " + std::to_string(id));
  if (!reply) return reply.error();
  JobStatus status = job_status_from(reply->get());
  status.id = id;
  return status;
}

Result<std::vector<std::string>> ask_troubles(IppLine& line) {
  auto request = line.request(IPP_OP_GET_PRINTER_ATTRIBUTES);
  ippAddString(request.get(), IPP_TAG_OPERATION, IPP_CONST_TAG(IPP_TAG_KEYWORD), "requested-attributes", nullptr, "printer-state-reasons");
  auto reply = line.ask(std::move(request), "asking how the press is");
  if (!reply) return reply.error();
  return troubles_from(reply->get());
}

Result<std::vector<FoundJob>> ask_jobs(IppLine& line, char const* which, bool mine) {
  auto request = line.request(IPP_OP_GET_JOBS);
  ippAddString(request.get(), IPP_TAG_OPERATION, IPP_TAG_KEYWORD, "which-jobs", nullptr, which);
  if (mine) ippAddBoolean(request.get(), IPP_TAG_OPERATION, "my-jobs", 1);
  static char const* const wanted[] = {"job-id", "job-name"};
  ippAddStrings(request.get(), IPP_TAG_OPERATION, IPP_CONST_TAG(IPP_TAG_KEYWORD), "requested-attributes", 2, nullptr, wanted);
  auto reply = line.ask(std::move(request), "looking for the job");
  if (!reply) return reply.error();
  return jobs_from(reply->get());
}

Result<Offer> ask_attributes(IppLine& line, std::vector<char const*> const& wanted) {
  auto request = line.request(IPP_OP_GET_PRINTER_ATTRIBUTES);
  ippAddStrings(request.get(), IPP_TAG_OPERATION, IPP_CONST_TAG(IPP_TAG_KEYWORD), "requested-attributes", static_cast<int>(wanted.size()), nullptr,
                wanted.data());
  auto reply = line.ask(std::move(request), "asking what the press offers");
  if (!reply) return reply.error();
  return offer_from(reply->get());
}

/// `queue`: CUPS tells the defaults that were set on a queue only when they are asked for by their own group. A printer that is asked for more
/// than "all" may leave out what is its maker's own; what goes together is not in "all" (RFC 8011, 4.2.5.1; PWG 5100.7).
Result<Offer> ask_offer(IppLine& line, bool queue) {
  if (queue) return ask_attributes(line, {"all", "media-col-database", "printer-defaults"});
  auto offer = ask_attributes(line, {"all"});
  if (!offer) return offer;
  auto together = ask_attributes(line, {"media-col-database"});
  if (!together && together.error().kind == ErrorKind::try_again) return together;
  if (together && !together->database.empty()) offer->database = std::move(together->database);
  return offer;
}

Result<SendReply> ask_print(IppLine& line, SendRequest const& options) {
  auto reply = line.ask(print_request(line, IPP_OP_PRINT_JOB, options), "sending", options.file.c_str());
  if (!reply) return reply.error();
  return send_reply_from(reply->get());
}

Result<std::optional<std::string>> ask_ppd(IppLine& line) {
  auto reply = line.ask(line.request(IPP_OP_CUPS_GET_PPD), "asking for the queue's PPD", nullptr, kMostPpdBytes);
  if (!reply && line.not_found()) return std::optional<std::string>();
  if (!reply) return reply.error();
  return line.behind().empty() ? std::optional<std::string>() : std::optional(line.behind());
}

Result<std::vector<std::pair<std::string, Offer>>> ask_queues(IppLine& line) {
  auto request = line.request(IPP_OP_CUPS_GET_PRINTERS);
  static char const* const wanted[] = {"all", "media-col-database"};
  ippAddStrings(request.get(), IPP_TAG_OPERATION, IPP_CONST_TAG(IPP_TAG_KEYWORD), "requested-attributes", 2, nullptr, wanted);
  auto reply = line.ask(std::move(request), "asking CUPS for its queues");
  if (!reply && line.not_found()) return std::vector<std::pair<std::string, Offer>>();  // it has none
  if (!reply) return reply.error();
  return queues_from(reply->get());
}

}  // namespace

struct PrintService::Members {
  std::string address;
  PressPlace place;
  Login login;
  double talk_seconds = kTalkSeconds, left = kTalkSeconds;
  IppManner manner;

  /// One question in a child of its own. `more`: seconds that it may take beside what is left for all; `kept`: of these it leaves some.
  template <class T>
  Result<T> ask(std::string const& what, std::function<Result<T>(IppLine&)> const& question, double more = 0, double kept = 0) {
    manner = {};
    auto const begun = Clock::now();
    std::optional<Result<T>> answer;
    auto const end = talk(
        [&](ReportToParent const& report) {
          auto const line = IppLine::connect(address, login);
          auto const result = line ? question(**line) : Result<T>(line.error());
          report(packed(result, line ? (*line)->manner() : IppManner()));
        },
        {.seconds = std::max(left - kept, 0.0) + more},
        [&](std::string const& report) {
          answer = unpacked<T>(report, manner);
          return false;
        });
    left -= std::max(0.0, seconds_since(begun) - more);
    if (answer) return std::move(*answer);
    return Error{ErrorKind::try_again, what + ": " + address + " " + end_words(end) +
                                           (end == TalkEnd::out_of_time ? " (" + format_number(talk_seconds + more, 0) + " s in all)" : "")};
  }
};

PrintService::PrintService(std::unique_ptr<Members> members) : m_(std::move(members)) {}
PrintService::~PrintService() = default;

bool PrintService::wants_login() const { return m_->manner.wants_login; }
bool PrintService::answered() const { return m_->manner.answered; }
double PrintService::seconds_left() const { return std::max(m_->left, 0.0); }

bool PrintService::wait(double seconds) {
  if (seconds >= m_->left) return false;
  std::this_thread::sleep_for(std::chrono::duration<double>(seconds));
  m_->left -= seconds;
  return true;
}

Result<std::unique_ptr<PrintService>> PrintService::connect(std::string const& address, Login const& login, double talk_seconds) {
  auto place = press_place(address);
  if (!place) return place.error();
  if (!login.password_file.empty() && !std::filesystem::exists(login.password_file))
    return Error{ErrorKind::usage, "there is no password file " + login.password_file + "; the press's table names it"};
  auto members = std::make_unique<Members>();
  members->address = address;
  members->place = std::move(place).value();
  members->login = login;
  members->talk_seconds = members->left = talk_seconds;
  return std::unique_ptr<PrintService>(new PrintService(std::move(members)));
}

Result<Offer> PrintService::offer() {
  bool const of_class = m_->place.resource.starts_with("/classes/"), of_queue = of_class || m_->place.resource.starts_with("/printers/");
  auto offer = m_->ask<Offer>("asking what the press offers", [of_queue](IppLine& line) { return ask_offer(line, of_queue); });
  if (!offer) return offer;
  offer->is_class = of_class;
  offer->is_queue = of_queue;
  return offer;
}

Result<std::optional<std::string>> PrintService::ppd() { return m_->ask<std::optional<std::string>>("asking for the queue's PPD", ask_ppd); }

Outcome PrintService::validate(SendRequest const& options) {
  return m_->ask<std::monostate>("asking whether the press would take it", [&](IppLine& line) -> Outcome {
    auto reply = line.ask(print_request(line, IPP_OP_VALIDATE_JOB, options), "asking whether the press would take it");
    if (reply || line.not_found()) return done();
    return reply.error();
  });
}

Result<SendReply> PrintService::send(SendRequest const& options) {
  std::error_code ignored;
  auto const bytes = std::filesystem::file_size(options.file, ignored);
  double const more = ignored ? 0 : static_cast<double>(bytes) / 1e6 * kSecondsPerMegabyte;
  return m_->ask<SendReply>(
      "sending", [&](IppLine& line) { return ask_print(line, options); }, more, std::min(kToLookAgain, m_->left / 2));
}

Result<std::optional<int>> PrintService::find_job(std::string const& job_name) {
  return m_->ask<std::optional<int>>("looking for the job", [&](IppLine& line) -> Result<std::optional<int>> {
    std::optional<int> found;
    for (char const* which : {"not-completed", "completed"}) {
      auto const jobs = ask_jobs(line, which, true);
      if (!jobs) return jobs.error();
      for (auto const& job : *jobs)
        if (job.name == job_name) found = std::max(found.value_or(0), job.id);
    }
    return found;
  });
}

Result<std::vector<FoundJob>> PrintService::waiting_jobs(std::string const& part) {
  auto jobs = m_->ask<std::vector<FoundJob>>("looking for jobs that wait", [](IppLine& line) { return ask_jobs(line, "not-completed", false); });
  if (jobs) std::erase_if(*jobs, [&](FoundJob const& job) { return job.name.find(part) == std::string::npos; });
  return jobs;
}

Result<JobStatus> PrintService::job(int id) {
  return m_->ask<JobStatus>("asking after job " + std::to_string(id), [id](IppLine& line) { return ask_job(line, id); });
}

bool has_ended(JobState state) {
  return state == JobState::completed || state == JobState::cancelled || state == JobState::aborted || state == JobState::held;
}

Outcome PrintService::follow(int id, double seconds, OnStatus const& reported) {
  using Answer = std::pair<JobStatus, std::vector<std::string>>;
  auto const follows = [&](ReportToParent const& report) {
    auto const end = Clock::now() + std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(seconds));
    auto const line = IppLine::connect(m_->address, m_->login);
    if (!line) return report(packed<Answer>(line.error()));
    while (true) {
      auto const now = ask_job(**line, id);
      if (!now) return report(packed<Answer>(now.error(), (*line)->manner()));
      report(packed<Answer>(Answer{*now, has_ended(now->state) ? std::vector<std::string>() : ask_troubles(**line).value_or({})}, (*line)->manner()));
      if (has_ended(now->state) || Clock::now() >= end) return;
      std::this_thread::sleep_for(PrintService::kPoll);
    }
  };
  std::optional<Error> error;
  bool heard = false;
  auto const end = talk(follows, {.seconds = m_->talk_seconds}, [&](std::string const& report) {
    auto const answer = unpacked<Answer>(report, m_->manner);
    if (!answer) return false;
    if (!*answer) return error = answer->error(), false;
    heard = true;
    reported((**answer).first, (**answer).second);
    return !has_ended((**answer).first.state);
  });
  if (error) return *error;
  if (!heard || (end != TalkEnd::finished && end != TalkEnd::stopped)) return Error{ErrorKind::try_again, m_->address + " " + end_words(end)};
  return done();
}

Outcome PrintService::cancel(int id) {
  return m_->ask<std::monostate>("cancelling job " + std::to_string(id), [id](IppLine& line) -> Outcome {
    auto const reply = line.ask(job_request(line, IPP_OP_CANCEL_JOB, id), "cancelling job " + std::to_string(id));
    if (!reply) return reply.error();
    return done();
  });
}

Result<std::vector<std::pair<std::string, Offer>>> PrintService::queues() {
  return m_->ask<std::vector<std::pair<std::string, Offer>>>("asking CUPS for its queues", ask_queues);
}

}  // namespace layright
