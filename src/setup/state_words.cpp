#include "setup/state_words.h"

#include <map>

namespace layright {
namespace {

using WordTable = std::map<std::string, char const*>;

std::string known_words(WordTable const& known, std::string const& word) {
  auto const found = known.find(word);
  return found == known.end() ? word : found->second;
}

}  // namespace

std::string_view word(JobState state) {
  switch (state) {
    case JobState::pending: return "waiting";
    case JobState::held: return "held";
    case JobState::processing: return "printing";
    case JobState::stopped: return "stopped";
    case JobState::cancelled: return "canceled";
    case JobState::aborted: return "aborted";
    case JobState::completed: return "completed";
    case JobState::unknown: break;
  }
  return "in a state that the press does not tell";
}

std::string state_reason_words(std::string const& reason) {
  static WordTable const known = {// RFC 8011, 5.4.12, and the IANA registrations of printer-state-reasons
                                  {"media-empty", "the tray is empty"},
                                  {"media-needed", "it wants a sheet in the tray"},
                                  {"media-low", "the tray is nearly empty"},
                                  {"media-jam", "a sheet is jammed"},
                                  {"input-tray-missing", "the tray is not in its place"},
                                  {"cover-open", "a cover is open"},
                                  {"door-open", "a door is open"},
                                  {"interlock-open", "a safety switch is open"},
                                  {"toner-empty", "a toner is used up"},
                                  {"toner-low", "a toner is low"},
                                  {"marker-supply-empty", "a toner or ink is used up"},
                                  {"marker-supply-low", "a toner or ink is low"},
                                  {"marker-waste-full", "the waste box is full"},
                                  {"output-area-full", "the exit is full"},
                                  {"output-tray-missing", "the exit tray is missing"},
                                  {"fuser-over-temp", "the fuser is too hot"},
                                  {"fuser-under-temp", "the fuser is not hot yet"},
                                  {"paused", "it is paused"},
                                  {"moving-to-paused", "it is about to pause"},
                                  {"offline", "it is offline"},
                                  {"shutdown", "it is switched off"},
                                  {"connecting-to-device", "the queue is looking for it"},
                                  {"timed-out", "it does not answer the queue"},
                                  {"stopping", "it is stopping"},
                                  {"spool-area-full", "its memory is full"},
                                  {"opc-life-over", "a drum is worn out"},
                                  {"developer-empty", "the developer is used up"}};
  std::string word = reason;
  for (char const* ending : {"-report", "-warning", "-error"})
    if (word.ends_with(ending)) word.resize(word.size() - std::char_traits<char>::length(ending));
  return known_words(known, word);
}

std::string job_reason_words(std::string const& reason) {
  static WordTable const known = {// RFC 8011, 5.3.8, the IANA registrations of job-state-reasons, and CUPS' own
                                  {"none", ""},
                                  {"job-completed-successfully", ""},
                                  {"job-printing", ""},
                                  {"job-incoming", "it is still on its way"},
                                  {"job-queued", ""},
                                  {"job-interpreting", ""},
                                  {"job-transforming", ""},
                                  {"queued-in-device", ""},
                                  {"job-outgoing", ""},
                                  {"job-queued-for-marker", ""},
                                  {"job-data-insufficient", "the press waits for more of the file"},
                                  {"submission-interrupted", "the file did not arrive whole"},
                                  {"document-access-error", "the press could not get at the file"},
                                  {"job-hold-until-specified", "it is held until somebody releases it"},
                                  {"job-held-on-create", "it is held until somebody releases it"},
                                  {"job-held-for-review", "it is held for somebody to look at it"},
                                  {"job-held-for-authorization", "it is held until somebody allows it"},
                                  {"cups-held-for-authentication", "it is held until somebody allows it"},
                                  {"job-password-wait", "it waits for its password at the press"},
                                  {"resources-are-not-ready", "what it needs is not ready: see tray and supplies"},
                                  {"printer-stopped", "the press or its queue is stopped"},
                                  {"printer-stopped-partly", "part of the press is stopped"},
                                  {"service-off-line", "the press is not at work"},
                                  {"processing-to-stop-point", "it is about to stop"},
                                  {"job-canceled-by-user", "whoever sent it canceled it"},
                                  {"job-canceled-by-operator", "the operator canceled it"},
                                  {"job-canceled-at-device", "somebody canceled it at the press"},
                                  {"aborted-by-system", "the press gave it up"},
                                  {"unsupported-compression", "the press cannot unpack the file"},
                                  {"compression-error", "the press could not unpack the file"},
                                  {"unsupported-document-format", "the press does not take this kind of file"},
                                  {"document-format-error", "the press found the file to be broken"},
                                  {"document-unprintable-error", "the press cannot print the file"},
                                  {"document-security-error", "the press may not read the file"},
                                  {"unsupported-attributes-or-values", "the press cannot do all that was asked"},
                                  {"conflicting-attributes", "the press cannot do together what was asked"},
                                  {"job-completed-with-warnings", "the press had something to say about it: look at the sheet"},
                                  {"job-completed-with-errors", "something went wrong: look at the sheet"},
                                  {"job-restartable", "it can be started again at the press"},
                                  {"job-suspended", "somebody suspended it"},
                                  {"account-closed", "its account is closed"},
                                  {"account-limit-reached", "its account has reached its limit"}};
  return known_words(known, reason);
}

std::string job_words(JobStatus const& status, std::vector<std::string> const& troubles) {
  std::string text = "job " + std::to_string(status.id) + ": " + std::string(word(status.state)), reported;
  bool const is_over = status.state == JobState::completed || status.state == JobState::cancelled || status.state == JobState::aborted;
  for (auto const& reason : status.reasons)
    if (is_over && reason == "processing-to-stop-point") continue;  // CUPS leaves it there
    else if (auto const words = job_reason_words(reason); !words.empty()) reported += (reported.empty() ? ": " : ", ") + words;
  text += reported;
  if (!status.message.empty()) text += "; the press says: " + status.message;
  for (auto const& trouble : troubles) text += "; " + trouble;
  return text;
}

}  // namespace layright
