// One connection to a printer or queue, by libcups: requests out, replies in. Only in a child (talk.h): the library takes whatever comes.
#pragma once
#include <memory>
#include <string>

#include "base/result.h"
#include "setup/ipp_exchange.h"
#include "setup/service.h"

namespace layright {

/// An address in its parts.
struct PressPlace {
  std::string host, resource, user;
  int port = 0;
  bool secure = false;
};
/// ipp:// or ipps://; error (usage) for another.
Result<PressPlace> press_place(std::string const& address);

/// What the last answer was beside what it said.
struct IppManner {
  bool wants_login = false;  // the press wants to know who asks, or lets only others in
  bool answered = false;     // it could be read, whatever it said; else nobody knows whether the press took what was sent
};

class IppLine {
 public:
  /// Errors: try_again when it cannot be reached.
  static Result<std::unique_ptr<IppLine>> connect(std::string const& address, Login const& login);
  ~IppLine();
  IppLine(IppLine const&) = delete;

  Ipp request(ipp_op_t operation) const;
  /// `file` goes behind the request; of what follows the reply at most `most_behind` bytes are kept. Errors: try_again when no answer came
  /// or the press is busy, hold when it refused. `what` was wanted: "asking what the press offers".
  Result<Ipp> ask(Ipp request, std::string const& what, char const* file = nullptr, std::size_t most_behind = 0);
  /// What followed the last reply.
  std::string const& behind() const { return behind_; }
  IppManner const& manner() const { return manner_; }
  /// The last request was understood, and what it names is not there, or the press does not know the operation.
  bool not_found() const { return not_found_; }

 private:
  IppLine() = default;
  http_t* http_ = nullptr;
  std::string address_, resource_, behind_;
  IppManner manner_;
  bool not_found_ = false;
};

/// The attributes of a job as IPP's own.
void add_attributes(ipp_t* request, SendRequest const& options);

}  // namespace layright
