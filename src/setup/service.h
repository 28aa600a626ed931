// A printer or queue behind an IPP address, by libcups. Nothing else talks to the network.
#pragma once
#include <chrono>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "geometry/result.h"
#include "check/finding.h"
#include "setup/ipp.h"

namespace layright {

/// What a printer says of itself: attribute name to its values as text (ippAttributeString).
using OfferedAttributes = std::map<std::string, std::vector<std::string>>;

/// A size that a printer takes, 1/100 mm: equal ends are a fixed size.
struct OfferedSize {
  int min_x = 0, max_x = 0, min_y = 0, max_y = 0;
};
/// What a tray reports of the way sheets go in (PWG 5100.13, media-source-properties).
struct OfferedTray {
  std::string source, feed_direction;  // e.g. by-pass-tray, short-edge-first
};

struct Offer {
  OfferedAttributes attributes;
  std::vector<OfferedSize> sizes;
  std::vector<OfferedTray> trays;
  bool is_queue = false;   // a queue that filters (its path says so), not a printer
};

enum class JobState { unknown, pending, held, processing, stopped, cancelled, aborted, completed };

struct JobStatus {
  int id = 0;
  JobState state = JobState::unknown;
  std::vector<std::string> reasons;  // job-state-reasons, "none" left out
  std::string message;               // job-state-message
};

struct SendRequest {
  std::string job_name;                 // unique to this sending, so that it can be found again
  std::string document_format = "application/pdf";
  std::vector<IppMember> attributes;    // in IPP's words
  std::vector<std::pair<std::string, std::string>> options;  // for a queue: in its PPD's words
  std::string file;                     // path
};
struct SendReply {
  int job = 0;
  std::vector<std::string> unsupported;  // attributes that came back as not honoured
};

class PrintService {
 public:
  /// `address`: ipp:// or ipps://. Errors: usage for another, try_again when it cannot be reached.
  static Result<std::unique_ptr<PrintService>> connect(std::string const& address);
  ~PrintService();

  Result<Offer> offer();
  /// Errors: try_again when the connection broke before an answer came (the job may or may not be there), hold when it was refused.
  Result<SendReply> send(SendRequest const& request);
  /// The newest job of that name that this user sent, done or not; nothing when there is none.
  Result<std::optional<int>> find_job(std::string const& job_name);
  Result<JobStatus> job(int id);
  Outcome cancel(int id);
  /// printer-state-reasons in plain words: "the tray is empty".
  Result<std::vector<std::string>> troubles();

 private:
  struct Members;
  explicit PrintService(std::unique_ptr<Members>);
  std::unique_ptr<Members> m_;
};

/// The finest resolution that a printer lists, as it writes it, or empty.
std::string finest_offered(Offer const& offer);

/// Why a printer cannot take what is asked, with the nearest thing that it offers; empty when it can.
std::vector<Finding> misfits(Target const& target, Offer const& offer, Unit unit);

}  // namespace layright
