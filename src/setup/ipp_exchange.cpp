#include "setup/ipp_exchange.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cstring>

#include "base/unique_fd.h"
#include "setup/ipp_bounds.h"

namespace layright {
namespace {

constexpr int kMostRounds = 5;  // logins and changes to an encrypted line
constexpr int kReconnectMilliseconds = 10000;

class File {
 public:
  explicit File(char const* path) : descriptor_(path ? open(path, O_RDONLY | O_CLOEXEC) : -1) {}
  bool is_open() const { return static_cast<bool>(descriptor_); }
  std::size_t size() const {
    struct stat found {};
    return fstat(descriptor_.get(), &found) == 0 ? static_cast<std::size_t>(found.st_size) : 0;
  }
  void rewind() const { lseek(descriptor_.get(), 0, SEEK_SET); }
  std::size_t next(char* into, std::size_t most) const { return static_cast<std::size_t>(std::max<ssize_t>(0, read(descriptor_.get(), into, most))); }

 private:
  UniqueFd descriptor_;
};

struct AnswerSource {
  http_t* http;
  IppBounds bounds;
};

ssize_t take(void* context, ipp_uchar_t* into, std::size_t wanted) {
  auto& source = *static_cast<AnswerSource*>(context);
  std::size_t at = 0;
  while (at < wanted) {
    auto const n = httpRead2(source.http, reinterpret_cast<char*>(into) + at, wanted - at);
    if (n <= 0) return -1;
    at += static_cast<std::size_t>(n);
  }
  return source.bounds.take(into, wanted) ? static_cast<ssize_t>(wanted) : -1;
}

http_status_t put(http_t* http, ipp_t* request, std::string const& resource, File const& file) {
  auto status = cupsSendRequest(http, request, resource.c_str(), ippLength(request) + (file.is_open() ? file.size() : 0));
  if (!file.is_open() || status != HTTP_STATUS_CONTINUE) return status;
  file.rewind();
  char buffer[32768];
  for (std::size_t n; status == HTTP_STATUS_CONTINUE && (n = file.next(buffer, sizeof buffer)) > 0;) status = cupsWriteRequestData(http, buffer, n);
  return status;
}

http_status_t wait_for_answer(http_t* http) {
  http_status_t status = HTTP_STATUS_CONTINUE;
  while (status == HTTP_STATUS_CONTINUE) status = httpUpdate(http);
  return status;
}

/// Whether it is to be asked once more.
bool comes_back(http_t* http, http_status_t& status, std::string const& resource) {
  httpFlush(http);
  if (status == HTTP_STATUS_UNAUTHORIZED) {
    if (cupsDoAuthentication(http, "POST", resource.c_str()) == 0) return httpReconnect2(http, kReconnectMilliseconds, nullptr) == 0;
    status = HTTP_STATUS_CUPS_AUTHORIZATION_CANCELED;
  }
  return status == HTTP_STATUS_UPGRADE_REQUIRED && httpReconnect2(http, kReconnectMilliseconds, nullptr) == 0 &&
         httpEncryption(http, HTTP_ENCRYPTION_REQUIRED) == 0;
}

std::string behind(http_t* http, std::size_t most) {
  std::string bytes;
  char buffer[32768];
  while (bytes.size() < most) {
    auto const n = httpRead2(http, buffer, std::min(sizeof buffer, most - bytes.size()));
    if (n <= 0) break;
    bytes.append(buffer, static_cast<std::size_t>(n));
  }
  return bytes;
}

IppAnswer read_answer(http_t* http, std::size_t most_behind) {
  IppAnswer answer;
  AnswerSource source{http, {}};
  Ipp reply(ippNew());
  auto state = IPP_STATE_IDLE;
  while (state != IPP_STATE_DATA && state != IPP_STATE_ERROR) state = ippReadIO(&source, take, 1, nullptr, reply.get());
  if (state == IPP_STATE_ERROR) {
    answer.status = IPP_STATUS_ERROR_INTERNAL;
    answer.said = source.bounds.broken() ? std::string("what it sent ") + source.bounds.broken() : "what it sent is no IPP, or breaks off";
    return answer;
  }
  answer.status = ippGetStatusCode(reply.get());
  auto* const message = ippFindAttribute(reply.get(), "status-message", IPP_TAG_TEXT);
  char const* const text = message ? ippGetString(message, 0, nullptr) : nullptr;
  answer.said = text ? text : ippErrorString(answer.status);
  answer.behind = behind(http, most_behind);
  answer.ipp = std::move(reply);
  if (httpGetState(http) != HTTP_STATE_WAITING) httpFlush(http);
  return answer;
}

/// As libcups has it for an answer that is no IPP.
IppAnswer without_ipp(http_t* http, http_status_t status) {
  IppAnswer answer;
  switch (status) {
    case HTTP_STATUS_NOT_FOUND: answer.status = IPP_STATUS_ERROR_NOT_FOUND; break;
    case HTTP_STATUS_UNAUTHORIZED: answer.status = IPP_STATUS_ERROR_NOT_AUTHENTICATED; break;
    case HTTP_STATUS_CUPS_AUTHORIZATION_CANCELED: answer.status = IPP_STATUS_ERROR_CUPS_AUTHENTICATION_CANCELED; break;
    case HTTP_STATUS_FORBIDDEN: answer.status = IPP_STATUS_ERROR_FORBIDDEN; break;
    case HTTP_STATUS_NOT_IMPLEMENTED: answer.status = IPP_STATUS_ERROR_OPERATION_NOT_SUPPORTED; break;
    default: answer.status = IPP_STATUS_ERROR_INTERNAL;
  }
  int const error = httpError(http);
  answer.said = status != HTTP_STATUS_ERROR ? httpStatus(status) : error != 0 ? std::strerror(error) : "the line broke";
  return answer;
}

}  // namespace

IppAnswer exchange(http_t* http, Ipp request, std::string const& resource, char const* path, std::size_t most_behind) {
  File const file(path);
  if (path && !file.is_open()) return {nullptr, IPP_STATUS_ERROR_INTERNAL, std::string("cannot read ") + path + ": " + std::strerror(errno), {}};
  auto status = HTTP_STATUS_ERROR;
  for (int round = 0; round < kMostRounds; ++round) {
    status = put(http, request.get(), resource, file);
    if (status == HTTP_STATUS_CONTINUE || status == HTTP_STATUS_OK || status == HTTP_STATUS_NONE) status = wait_for_answer(http);
    if (status == HTTP_STATUS_OK) return read_answer(http, most_behind);
    if (status == HTTP_STATUS_ERROR || !comes_back(http, status, resource)) break;
  }
  return without_ipp(http, status);
}

}  // namespace layright
