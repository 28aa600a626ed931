// A printer or queue behind an IPP address, by libcups. Nothing else talks to the network.
#pragma once
#include <chrono>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"
#include "check/finding.h"
#include "setup/ipp.h"

namespace layright {

/// What a printer says of itself: attribute name to its values as text (ippAttributeString).
using OfferedAttributes = std::map<std::string, std::vector<std::string>>;
/// In which of RFC 8011's syntaxes it says so: keyword, enum, resolution, rangeOfInteger, integer, boolean, name, …
using OfferedSyntaxes = std::map<std::string, std::string>;

/// A size that a printer takes, 1/100 mm: equal ends are a fixed size.
struct OfferedSize {
  int min_x = 0, max_x = 0, min_y = 0, max_y = 0;
};
/// What goes together (an entry of media-col-database), or what lies loaded (of media-col-ready). Empty words: for any, or not said.
struct OfferedMedia {
  OfferedSize size;            // all 0: not said
  std::string source, type;    // e.g. by-pass-tray, transparency
  std::string feed_direction;  // PWG 5100.13, media-source-properties: e.g. short-edge-first
};

struct Offer {
  OfferedAttributes attributes;
  OfferedSyntaxes syntaxes;
  std::vector<OfferedSize> sizes;      // media-size-supported
  std::vector<OfferedMedia> database;  // what goes together
  std::vector<OfferedMedia> ready;     // what lies loaded
  bool is_queue = false;               // a queue that filters (its path says so), not a printer
  bool is_class = false;               // of several presses
};

enum class JobState { unknown, pending, held, processing, stopped, cancelled, aborted, completed };

struct JobStatus {
  int id = 0;
  JobState state = JobState::unknown;
  std::vector<std::string> reasons;  // job-state-reasons, "none" left out
  std::string message;               // job-state-message
  std::optional<int> sheets;         // job-media-sheets-completed, else job-impressions-completed
};

struct SendRequest {
  std::string job_name;  // unique to this sending, so that it can be found again
  std::string document_format = "application/pdf";
  std::vector<IppMember> attributes;                         // in IPP's words
  std::vector<std::pair<std::string, std::string>> options;  // for a queue: in its PPD's words
  std::string file;                                          // path
};
struct SendReply {
  int job = 0;                           // 0: it was taken without a number
  std::vector<std::string> unsupported;  // attributes that came back as not honoured
};
struct FoundJob {
  int id = 0;
  std::string name;
};

/// For a press that asks who one is.
struct Login {
  std::string user, password_file;  // or empty
};

/// Each question is asked in a child of its own (talk.h), so a press that answers without end, too much or nested too deep is reported, not suffered.
class PrintService {
 public:
  /// Of all questions together, by the clock; following a job has as much between two of its answers.
  static constexpr double kTalkSeconds = 30;
  static constexpr std::chrono::milliseconds kPoll{300};  // between two questions after a job

  /// `address`: ipp:// or ipps://. Error (usage) for another; nothing is asked yet.
  static Result<std::unique_ptr<PrintService>> connect(std::string const& address, Login const& login = {}, double talk_seconds = kTalkSeconds);
  ~PrintService();

  Result<Offer> offer();
  /// The PPD of a CUPS queue, as text; nothing where it has none.
  Result<std::optional<std::string>> ppd();
  /// Whether the press would take a job like this one (Validate-Job). Error (hold) when it would not; a press that does not know the question would.
  Outcome validate(SendRequest const& request);
  /// Errors: try_again when the connection broke before an answer came (the job may or may not be there), hold when it was refused.
  Result<SendReply> send(SendRequest const& request);
  /// The newest job of that name that this user sent, done or not; nothing when there is none.
  Result<std::optional<int>> find_job(std::string const& job_name);
  /// Jobs that have not ended and have `part` in their names.
  Result<std::vector<FoundJob>> waiting_jobs(std::string const& part);
  Result<JobStatus> job(int id);
  /// Asks after a job until it has ended, is held, or the time is over. `told` gets every answer with the press's troubles in plain words.
  using OnStatus = std::function<void(JobStatus const&, std::vector<std::string> const& troubles)>;
  Outcome follow(int id, double seconds, OnStatus const& reported);
  Outcome cancel(int id);
  /// All queues of a CUPS server: their names and what each says of itself.
  Result<std::vector<std::pair<std::string, Offer>>> queues();

  /// The last question failed because the press wants to know who asks.
  bool wants_login() const;
  /// The last question had an answer, if only that the press is busy; else nobody knows whether it took what was sent.
  bool answered() const;
  double seconds_left() const;
  /// Waits before the next question, which counts as talk. False, at once: there is no time for that.
  bool wait(double seconds);

 private:
  struct Members;
  explicit PrintService(std::unique_ptr<Members>);
  std::unique_ptr<Members> m_;
};

/// A job that will not change any more by itself.
bool has_ended(JobState state);

/// The finest resolution that a printer lists, as it writes it, or empty.
std::string finest_offered(Offer const& offer);

/// Why a printer cannot take what is asked, with the nearest thing that it offers; empty when it can.
std::vector<Finding> unsupported_settings(Target const& target, Offer const& offer, Unit unit);

}  // namespace layright
