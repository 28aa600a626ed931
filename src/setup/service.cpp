#include "setup/service.h"

#include <cups/cups.h>

#include <algorithm>
#include <cstring>

namespace layright {
namespace {

constexpr int kConnectMilliseconds = 10000;
constexpr double kAnswerSeconds = 60;

struct IppDelete {
  void operator()(ipp_t* ipp) const { ippDelete(ipp); }
};
using Ipp = std::unique_ptr<ipp_t, IppDelete>;

std::vector<std::string> values_of(ipp_attribute_t* attribute) {
  std::vector<std::string> values;
  auto const tag = ippGetValueTag(attribute);
  bool const strings = tag == IPP_TAG_KEYWORD || tag == IPP_TAG_NAME || tag == IPP_TAG_NAMELANG || tag == IPP_TAG_TEXT || tag == IPP_TAG_TEXTLANG ||
                       tag == IPP_TAG_MIMETYPE || tag == IPP_TAG_URI || tag == IPP_TAG_URISCHEME || tag == IPP_TAG_CHARSET || tag == IPP_TAG_LANGUAGE;
  for (int i = 0; i < ippGetCount(attribute); ++i) {
    int a = 0, b = 0;
    ipp_res_t units = IPP_RES_PER_INCH;
    if (strings) {
      char const* text = ippGetString(attribute, i, nullptr);
      values.emplace_back(text ? text : "");
    } else if (tag == IPP_TAG_INTEGER || tag == IPP_TAG_ENUM) {
      values.push_back(std::to_string(ippGetInteger(attribute, i)));
    } else if (tag == IPP_TAG_BOOLEAN) {
      values.emplace_back(ippGetBoolean(attribute, i) ? "true" : "false");
    } else if (tag == IPP_TAG_RESOLUTION) {
      a = ippGetResolution(attribute, i, &b, &units);
      values.push_back(std::to_string(a) + "x" + std::to_string(b) + (units == IPP_RES_PER_INCH ? "dpi" : "dpcm"));
    } else if (tag == IPP_TAG_RANGE) {
      a = ippGetRange(attribute, i, &b);
      values.push_back(std::to_string(a) + "-" + std::to_string(b));
    }
  }
  return values;
}

ipp_attribute_t* member(ipp_t* collection, char const* name) { return ippFindAttribute(collection, name, IPP_TAG_ZERO); }

void add_size(ipp_t* size, std::vector<OfferedSize>& sizes) {
  OfferedSize offered;
  auto const read = [&](char const* name, int& low, int& high) {
    ipp_attribute_t* side = size ? member(size, name) : nullptr;
    if (!side) return false;
    if (ippGetValueTag(side) == IPP_TAG_RANGE) low = ippGetRange(side, 0, &high);
    else low = high = ippGetInteger(side, 0);
    return low > 0 || high > 0;
  };
  if (read("x-dimension", offered.min_x, offered.max_x) && read("y-dimension", offered.min_y, offered.max_y)) sizes.push_back(offered);
}

void add_tray(ipp_t* media, std::vector<OfferedTray>& trays) {
  ipp_attribute_t* source = member(media, "media-source");
  ipp_attribute_t* properties = member(media, "media-source-properties");
  if (!source || !properties || ippGetValueTag(properties) != IPP_TAG_BEGIN_COLLECTION) return;
  ipp_attribute_t* feed = member(ippGetCollection(properties, 0), "media-source-feed-direction");
  char const* name = ippGetString(source, 0, nullptr);
  char const* direction = feed ? ippGetString(feed, 0, nullptr) : nullptr;
  if (name && direction) trays.push_back({name, direction});
}

void read_media(ipp_t* reply, char const* name, Offer& offer) {
  ipp_attribute_t* list = ippFindAttribute(reply, name, IPP_TAG_BEGIN_COLLECTION);
  for (int i = 0; list && i < ippGetCount(list); ++i) {
    ipp_t* media = ippGetCollection(list, i);
    ipp_attribute_t* size = member(media, "media-size");
    if (size && ippGetValueTag(size) == IPP_TAG_BEGIN_COLLECTION) add_size(ippGetCollection(size, 0), offer.sizes);
    add_tray(media, offer.trays);
  }
}

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

JobState state_from(int value) {  // RFC 8011, 5.3.7
  switch (value) {
    case IPP_JSTATE_PENDING: return JobState::pending;
    case IPP_JSTATE_HELD: return JobState::held;
    case IPP_JSTATE_PROCESSING: return JobState::processing;
    case IPP_JSTATE_STOPPED: return JobState::stopped;
    case IPP_JSTATE_CANCELED: return JobState::cancelled;
    case IPP_JSTATE_ABORTED: return JobState::aborted;
    case IPP_JSTATE_COMPLETED: return JobState::completed;
    default: return JobState::unknown;
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
  httpSetTimeout(members->http, kAnswerSeconds, nullptr, nullptr);
  return std::unique_ptr<PrintService>(new PrintService(std::move(members)));
}

Result<Offer> PrintService::offer() {
  auto request = m_->request(IPP_OP_GET_PRINTER_ATTRIBUTES);
  static char const* const wanted[] = {"all", "media-col-database"};
  ippAddStrings(request.get(), IPP_TAG_OPERATION, IPP_CONST_TAG(IPP_TAG_KEYWORD), "requested-attributes", 2, nullptr, wanted);
  auto reply = m_->ask(std::move(request), nullptr, "asking what the press offers");
  if (!reply) return reply.error();
  Offer offer;
  for (ipp_attribute_t* a = ippFirstAttribute(reply->get()); a; a = ippNextAttribute(reply->get())) {
    char const* name = ippGetName(a);
    if (name && ippGetGroupTag(a) == IPP_TAG_PRINTER) offer.attributes.emplace(name, values_of(a));
  }
  ipp_attribute_t* sizes = ippFindAttribute(reply->get(), "media-size-supported", IPP_TAG_BEGIN_COLLECTION);
  for (int i = 0; sizes && i < ippGetCount(sizes); ++i) add_size(ippGetCollection(sizes, i), offer.sizes);
  read_media(reply->get(), "media-col-database", offer);
  read_media(reply->get(), "media-col-ready", offer);
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
  SendReply result;
  for (ipp_attribute_t* a = ippFirstAttribute(reply->get()); a; a = ippNextAttribute(reply->get()))
    if (ippGetGroupTag(a) == IPP_TAG_UNSUPPORTED_GROUP && ippGetName(a)) result.unsupported.emplace_back(ippGetName(a));
  ipp_attribute_t* id = ippFindAttribute(reply->get(), "job-id", IPP_TAG_INTEGER);
  result.job = id ? ippGetInteger(id, 0) : 0;
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
    // Jobs come as groups of attributes in any order, with a nameless separator between them.
    int id = 0;
    bool named = false;
    auto const end_group = [&] {
      if (named && id > 0) found = std::max(found.value_or(0), id);
      id = 0;
      named = false;
    };
    for (ipp_attribute_t* a = ippFirstAttribute(reply->get()); a; a = ippNextAttribute(reply->get())) {
      char const* name = ippGetName(a);
      if (!name || ippGetGroupTag(a) != IPP_TAG_JOB) {
        end_group();
        continue;
      }
      if (std::strcmp(name, "job-id") == 0) id = ippGetInteger(a, 0);
      if (std::strcmp(name, "job-name") == 0) named = ippGetString(a, 0, nullptr) && job_name == ippGetString(a, 0, nullptr);
    }
    end_group();
  }
  return found;
}

Result<JobStatus> PrintService::job(int id) {
  auto request = m_->request(IPP_OP_GET_JOB_ATTRIBUTES);
  ippAddInteger(request.get(), IPP_TAG_OPERATION, IPP_TAG_INTEGER, "job-id", id);
  auto reply = m_->ask(std::move(request), nullptr, "asking after job " + std::to_string(id));
  if (!reply) return reply.error();
  JobStatus status;
  status.id = id;
  if (auto* a = ippFindAttribute(reply->get(), "job-state", IPP_TAG_ENUM)) status.state = state_from(ippGetInteger(a, 0));
  if (auto* a = ippFindAttribute(reply->get(), "job-state-reasons", IPP_TAG_ZERO))
    for (auto const& reason : values_of(a))
      if (reason != "none") status.reasons.push_back(reason);
  for (char const* name : {"job-state-message", "job-printer-state-message"})
    if (auto* a = ippFindAttribute(reply->get(), name, IPP_TAG_ZERO); a && status.message.empty())
      if (auto const text = values_of(a); !text.empty()) status.message = text[0];
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
  std::vector<std::string> words;
  if (auto* a = ippFindAttribute(reply->get(), "printer-state-reasons", IPP_TAG_ZERO))
    for (auto const& reason : values_of(a))
      if (reason != "none" && !reason.ends_with("-report")) words.push_back(state_reason_words(reason));
  return words;
}

}  // namespace layright
