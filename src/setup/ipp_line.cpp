#include "setup/ipp_line.h"

#include <cstring>
#include <fstream>

namespace layright {
namespace {

constexpr int kConnectMilliseconds = 10000;
constexpr double kAnswerSeconds = 15, kTakeSeconds = 60;  // between two pieces of an answer; a press may want to look at a file first

/// What libcups is given when a press asks who one is. Once: a second question means that it was not believed.
struct AskedPassword {
  std::string password;
  bool there = false, given = false;
};

char const* give_password(char const*, http_t*, char const*, char const*, void* data) {
  auto& asked = *static_cast<AskedPassword*>(data);
  if (!asked.there || asked.given) return nullptr;
  asked.given = true;
  return asked.password.c_str();
}

/// For the life of the child.
AskedPassword& asked_password() {
  static AskedPassword asked;
  return asked;
}

std::string first_line(std::string const& path) {
  std::ifstream file(path, std::ios::binary);
  std::string line;
  std::getline(file, line);
  if (!line.empty() && line.back() == '\r') line.pop_back();
  return line;
}

void add_value(ipp_t* to, ipp_tag_t group, IppMember const& member);

ipp_t* collection_of(IppCollection const& members) {
  ipp_t* collection = ippNew();
  for (auto const& each : members) add_value(collection, IPP_TAG_ZERO, each);
  return collection;
}

/// Several values under one name: the first makes the attribute, the others are set behind it.
void add_values(ipp_t* to, ipp_tag_t group, std::string const& name, std::vector<IppMember> const& values) {
  if (values.empty()) return;
  IppMember first = values.front();
  first.name = name;
  add_value(to, group, first);
  ipp_attribute_t* made = ippFindAttribute(to, name.c_str(), IPP_TAG_ZERO);
  for (int i = 1; made && i < static_cast<int>(values.size()); ++i) {
    auto const& value = values[static_cast<std::size_t>(i)].value;
    if (auto const* keyword = std::get_if<IppKeyword>(&value)) ippSetString(to, &made, i, keyword->word.c_str());
    if (auto const* text = std::get_if<IppName>(&value)) ippSetString(to, &made, i, text->text.c_str());
    if (auto const* dots = std::get_if<IppResolution>(&value))
      ippSetResolution(to, &made, i, dots->metric ? IPP_RES_PER_CM : IPP_RES_PER_INCH, dots->across, dots->along);
    if (auto const* number = std::get_if<IppEnum>(&value)) ippSetInteger(to, &made, i, number->value);
    if (auto const* range = std::get_if<IppRange>(&value)) ippSetRange(to, &made, i, range->from, range->to);
    if (auto const* number = std::get_if<int>(&value)) ippSetInteger(to, &made, i, *number);
    if (auto const* flag = std::get_if<bool>(&value)) ippSetBoolean(to, &made, i, static_cast<char>(*flag));
  }
}

void add_value(ipp_t* to, ipp_tag_t group, IppMember const& each) {
  char const* name = each.name.c_str();
  if (auto const* keyword = std::get_if<IppKeyword>(&each.value)) ippAddString(to, group, IPP_TAG_KEYWORD, name, nullptr, keyword->word.c_str());
  if (auto const* text = std::get_if<IppName>(&each.value)) ippAddString(to, group, IPP_TAG_NAME, name, nullptr, text->text.c_str());
  if (auto const* dots = std::get_if<IppResolution>(&each.value))
    ippAddResolution(to, group, name, dots->metric ? IPP_RES_PER_CM : IPP_RES_PER_INCH, dots->across, dots->along);
  if (auto const* number = std::get_if<IppEnum>(&each.value)) ippAddInteger(to, group, IPP_TAG_ENUM, name, number->value);
  if (auto const* range = std::get_if<IppRange>(&each.value)) ippAddRange(to, group, name, range->from, range->to);
  if (auto const* number = std::get_if<int>(&each.value)) ippAddInteger(to, group, IPP_TAG_INTEGER, name, *number);
  if (auto const* flag = std::get_if<bool>(&each.value)) ippAddBoolean(to, group, name, static_cast<char>(*flag));
  if (auto const* several = std::get_if<IppSeveral>(&each.value)) add_values(to, group, each.name, several->values);
  if (auto const* members = std::get_if<IppCollection>(&each.value)) {
    ipp_t* collection = collection_of(*members);
    ippAddCollection(to, group, name, collection);
    ippDelete(collection);
  }
}

}  // namespace

void add_attributes(ipp_t* request, SendRequest const& wanted) {
  for (auto const& attribute : wanted.attributes) add_value(request, IPP_TAG_JOB, attribute);
  cups_option_t* encoded = nullptr;
  int count = 0;
  for (auto const& [name, value] : wanted.options) count = cupsAddOption(name.c_str(), value.c_str(), count, &encoded);
  cupsEncodeOptions2(request, count, encoded, IPP_TAG_JOB);
  cupsFreeOptions(count, encoded);
}

Result<PressPlace> press_place(std::string const& address) {
  char scheme[32], user[256], host[256], resource[1024];
  PressPlace place;
  auto const status = httpSeparateURI(HTTP_URI_CODING_ALL, address.c_str(), scheme, sizeof scheme, user, sizeof user, host, sizeof host, &place.port,
                                      resource, sizeof resource);
  place.secure = std::strcmp(scheme, "ipps") == 0;
  if (status < HTTP_URI_STATUS_OK || host[0] == 0 || (!place.secure && std::strcmp(scheme, "ipp") != 0))
    return Error{ErrorKind::usage, address + " is no printer's address: write ipp://HOST:PORT/ipp/print"};
  place.host = host;
  place.resource = resource;
  place.user = user;
  return place;
}

Result<std::unique_ptr<IppLine>> IppLine::connect(std::string const& address, Login const& login) {
  auto const place = press_place(address);
  if (!place) return place.error();
  std::string const user = login.user.empty() ? place->user : login.user;
  if (!user.empty()) cupsSetUser(user.c_str());
  auto& reported = asked_password();
  reported = {};
  if (!login.password_file.empty()) reported.password = first_line(login.password_file), reported.there = true;
  cupsSetPasswordCB2(give_password, &reported);  // else the library asks at the terminal
  std::unique_ptr<IppLine> line(new IppLine());
  line->address_ = address;
  line->resource_ = place->resource;
  bool const by_socket = place->host == "localhost" && place->port == ippPort() && cupsServer()[0] == '/';  // as libcups itself goes
  line->http_ = httpConnect2(by_socket ? cupsServer() : place->host.c_str(), place->port, nullptr, AF_UNSPEC,
                             place->secure ? HTTP_ENCRYPTION_ALWAYS : HTTP_ENCRYPTION_IF_REQUESTED, 1, kConnectMilliseconds, nullptr);
  if (!line->http_)
    return Error{ErrorKind::try_again,
                 address + " cannot be reached: " + (cupsLastErrorString() ? cupsLastErrorString() : "no answer") + "; is it switched on?"};
  return line;
}

IppLine::~IppLine() { httpClose(http_); }

Ipp IppLine::request(ipp_op_t operation) const {
  Ipp made(ippNewRequest(operation));
  ippAddString(made.get(), IPP_TAG_OPERATION, IPP_TAG_URI, "printer-uri", nullptr, address_.c_str());
  ippAddString(made.get(), IPP_TAG_OPERATION, IPP_TAG_NAME, "requesting-user-name", nullptr, cupsUser());
  return made;
}

Result<Ipp> IppLine::ask(Ipp request, std::string const& what, char const* file, std::size_t most_behind) {
  httpSetTimeout(http_, file ? kTakeSeconds : kAnswerSeconds, nullptr, nullptr);
  auto answer = exchange(http_, std::move(request), resource_, file, most_behind);
  behind_ = std::move(answer.behind);
  manner_.answered = answer.ipp != nullptr;
  auto const status = answer.status;
  std::string const& said = answer.said;
  manner_.wants_login = status == IPP_STATUS_ERROR_FORBIDDEN || status == IPP_STATUS_ERROR_NOT_AUTHENTICATED ||
                        status == IPP_STATUS_ERROR_NOT_AUTHORIZED || status == IPP_STATUS_ERROR_CUPS_AUTHENTICATION_CANCELED;
  not_found_ = status == IPP_STATUS_ERROR_NOT_FOUND || status == IPP_STATUS_ERROR_OPERATION_NOT_SUPPORTED;
  if (manner_.wants_login) {
    auto const& reported = asked_password();
    std::string const why = reported.given   ? "it did not take the user and password that the press's table names"
                            : reported.there ? "the user and password were not asked for, and it lets only others in"
                                             : "give the press's table a user and a password-file";
    return Error{ErrorKind::hold, what + ": login needed: " + address_ + " answered \"" + said + "\"; " + why};
  }
  if (!answer.ipp) return Error{ErrorKind::try_again, what + ": " + address_ + " gave no answer that can be read (" + said + ")"};
  if (status == IPP_STATUS_ERROR_BUSY || status == IPP_STATUS_ERROR_SERVICE_UNAVAILABLE || status == IPP_STATUS_ERROR_TEMPORARY)
    return Error{ErrorKind::try_again, what + ": " + address_ + " is busy (" + said + ")"};
  if (status > IPP_STATUS_OK_EVENTS_COMPLETE)
    return Error{ErrorKind::hold, what + ": " + address_ + " refused: " + said + " (" + ippErrorString(status) + ")"};
  return std::move(answer.ipp);
}

}  // namespace layright
