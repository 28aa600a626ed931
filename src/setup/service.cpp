#include "setup/service.h"

#include <cups/cups.h>

#include <algorithm>
#include <cstring>

#include "setup/ipp_reading.h"

namespace layright {
namespace {

constexpr int kConnectMilliseconds = 10000;
constexpr double kAnswerSeconds = 15, kTakeSeconds = 60;  // for a question; for a file, which a press may want to look at first

struct IppDelete {
  void operator()(ipp_t* ipp) const { ippDelete(ipp); }
};
using Ipp = std::unique_ptr<ipp_t, IppDelete>;

void add_value(ipp_t* to, ipp_tag_t group, IppMember const& member);

ipp_t* collection_of(IppCollection const& members) {
  ipp_t* collection = ippNew();
  for (auto const& each : members) add_value(collection, IPP_TAG_ZERO, each);
  return collection;
}

void add_value(ipp_t* to, ipp_tag_t group, IppMember const& each) {
  char const* name = each.name.c_str();
  if (auto const* keyword = std::get_if<IppKeyword>(&each.value)) ippAddString(to, group, IPP_TAG_KEYWORD, name, nullptr, keyword->word.c_str());
  if (auto const* text = std::get_if<IppName>(&each.value)) ippAddString(to, group, IPP_TAG_NAME, name, nullptr, text->text.c_str());
  if (auto const* dots = std::get_if<IppResolution>(&each.value)) ippAddResolution(to, group, name, IPP_RES_PER_INCH, dots->across, dots->along);
  if (auto const* number = std::get_if<IppEnum>(&each.value)) ippAddInteger(to, group, IPP_TAG_ENUM, name, number->value);
  if (auto const* range = std::get_if<IppRange>(&each.value)) ippAddRange(to, group, name, range->from, range->to);
  if (auto const* number = std::get_if<int>(&each.value)) ippAddInteger(to, group, IPP_TAG_INTEGER, name, *number);
  if (auto const* flag = std::get_if<bool>(&each.value)) ippAddBoolean(to, group, name, static_cast<char>(*flag));
  if (auto const* members = std::get_if<IppCollection>(&each.value)) {
    ipp_t* collection = collection_of(*members);
    ippAddCollection(to, group, name, collection);
    ippDelete(collection);
  }
}

}  // namespace

struct PrintService::Members {
  http_t* http = nullptr;
  std::string address, resource;

  ~Members() { httpClose(http); }

  Ipp request(ipp_op_t operation) const {
    Ipp made(ippNewRequest(operation));
    ippAddString(made.get(), IPP_TAG_OPERATION, IPP_TAG_URI, "printer-uri", nullptr, address.c_str());
    ippAddString(made.get(), IPP_TAG_OPERATION, IPP_TAG_NAME, "requesting-user-name", nullptr, cupsUser());
    return made;
  }
  /// The library frees the request. `file` may be null.
  Result<Ipp> ask(Ipp request, char const* file, std::string const& what) const {
    httpSetTimeout(http, file ? kTakeSeconds : kAnswerSeconds, nullptr, nullptr);
    Ipp reply(file ? cupsDoFileRequest(http, request.release(), resource.c_str(), file) : cupsDoRequest(http, request.release(), resource.c_str()));
    std::string const said = cupsLastErrorString() ? cupsLastErrorString() : "no reason given";
    if (!reply) return Error{ErrorKind::try_again, what + ": " + address + " gave no answer (" + said + ")"};
    auto const status = ippGetStatusCode(reply.get());
    if (status == IPP_STATUS_ERROR_BUSY || status == IPP_STATUS_ERROR_SERVICE_UNAVAILABLE || status == IPP_STATUS_ERROR_TEMPORARY)
      return Error{ErrorKind::try_again, what + ": " + address + " is busy (" + said + ")"};
    if (status > IPP_STATUS_OK_EVENTS_COMPLETE) return Error{ErrorKind::hold, what + ": " + address + " refused: " + said + " (" + ippErrorString(status) + ")"};
    return reply;
  }
};

PrintService::PrintService(std::unique_ptr<Members> members) : m_(std::move(members)) {}
PrintService::~PrintService() = default;

Result<std::unique_ptr<PrintService>> PrintService::connect(std::string const& address) {
  char scheme[32], user[256], host[256], resource[1024];
  int port = 0;
  auto const status = httpSeparateURI(HTTP_URI_CODING_ALL, address.c_str(), scheme, sizeof scheme, user, sizeof user, host, sizeof host, &port, resource, sizeof resource);
  bool const secure = std::strcmp(scheme, "ipps") == 0;
  if (status < HTTP_URI_STATUS_OK || host[0] == 0 || (!secure && std::strcmp(scheme, "ipp") != 0))
    return Error{ErrorKind::usage, address + " is no printer's address: write ipp://HOST:PORT/ipp/print"};
  auto members = std::make_unique<Members>();
  members->address = address;
  members->resource = resource;
  members->http = httpConnect2(host, port, nullptr, AF_UNSPEC, secure ? HTTP_ENCRYPTION_ALWAYS : HTTP_ENCRYPTION_IF_REQUESTED, 1, kConnectMilliseconds, nullptr);
  if (!members->http) return Error{ErrorKind::try_again, address + " cannot be reached: " + (cupsLastErrorString() ? cupsLastErrorString() : "no answer") + "; is it switched on?"};
  return std::unique_ptr<PrintService>(new PrintService(std::move(members)));
}

Result<Offer> PrintService::offer() {
  auto request = m_->request(IPP_OP_GET_PRINTER_ATTRIBUTES);
  static char const* const wanted[] = {"all", "media-col-database"};
  ippAddStrings(request.get(), IPP_TAG_OPERATION, IPP_CONST_TAG(IPP_TAG_KEYWORD), "requested-attributes", 2, nullptr, wanted);
  auto reply = m_->ask(std::move(request), nullptr, "asking what the press offers");
  if (!reply) return reply.error();
  Offer offer = offer_from(reply->get());
  offer.is_queue = m_->resource.starts_with("/printers/") || m_->resource.starts_with("/classes/");
  return offer;
}

Result<SendReply> PrintService::send(SendRequest const& wish) {
  auto request = m_->request(IPP_OP_PRINT_JOB);
  ippAddString(request.get(), IPP_TAG_OPERATION, IPP_TAG_NAME, "job-name", nullptr, wish.job_name.c_str());
  ippAddString(request.get(), IPP_TAG_OPERATION, IPP_TAG_MIMETYPE, "document-format", nullptr, wish.document_format.c_str());
  ippAddBoolean(request.get(), IPP_TAG_OPERATION, "ipp-attribute-fidelity", 1);
  for (auto const& attribute : wish.attributes) add_value(request.get(), IPP_TAG_JOB, attribute);
  cups_option_t* options = nullptr;
  int count = 0;
  for (auto const& [name, value] : wish.options) count = cupsAddOption(name.c_str(), value.c_str(), count, &options);
  cupsEncodeOptions2(request.get(), count, options, IPP_TAG_JOB);
  cupsFreeOptions(count, options);
  auto reply = m_->ask(std::move(request), wish.file.c_str(), "sending");
  if (!reply) return reply.error();
  SendReply const result = send_reply_from(reply->get());
  if (result.job <= 0) return Error{ErrorKind::hold, "sending: " + m_->address + " took the file without giving it a job number; look at the press"};
  return result;
}

Result<std::optional<int>> PrintService::find_job(std::string const& job_name) {
  std::optional<int> found;
  for (char const* which : {"not-completed", "completed"}) {
    auto request = m_->request(IPP_OP_GET_JOBS);
    ippAddString(request.get(), IPP_TAG_OPERATION, IPP_TAG_KEYWORD, "which-jobs", nullptr, which);
    ippAddBoolean(request.get(), IPP_TAG_OPERATION, "my-jobs", 1);
    static char const* const wanted[] = {"job-id", "job-name"};
    ippAddStrings(request.get(), IPP_TAG_OPERATION, IPP_CONST_TAG(IPP_TAG_KEYWORD), "requested-attributes", 2, nullptr, wanted);
    auto reply = m_->ask(std::move(request), nullptr, "looking for the job");
    if (!reply) return reply.error();
    if (auto const job = newest_job(reply->get(), job_name)) found = std::max(found.value_or(0), *job);
  }
  return found;
}

Result<JobStatus> PrintService::job(int id) {
  auto request = m_->request(IPP_OP_GET_JOB_ATTRIBUTES);
  ippAddInteger(request.get(), IPP_TAG_OPERATION, IPP_TAG_INTEGER, "job-id", id);
  auto reply = m_->ask(std::move(request), nullptr, "asking after job " + std::to_string(id));
  if (!reply) return reply.error();
  JobStatus status = job_status_from(reply->get());
  status.id = id;
  return status;
}

Outcome PrintService::cancel(int id) {
  auto request = m_->request(IPP_OP_CANCEL_JOB);
  ippAddInteger(request.get(), IPP_TAG_OPERATION, IPP_TAG_INTEGER, "job-id", id);
  auto const reply = m_->ask(std::move(request), nullptr, "cancelling job " + std::to_string(id));
  if (!reply) return reply.error();
  return done();
}

Result<std::vector<std::string>> PrintService::troubles() {
  auto request = m_->request(IPP_OP_GET_PRINTER_ATTRIBUTES);
  ippAddString(request.get(), IPP_TAG_OPERATION, IPP_CONST_TAG(IPP_TAG_KEYWORD), "requested-attributes", nullptr, "printer-state-reasons");
  auto reply = m_->ask(std::move(request), nullptr, "asking how the press is");
  if (!reply) return reply.error();
  return troubles_from(reply->get());
}

}  // namespace layright
