// One connection to a printer or queue, by libcups: requests out, replies in. Only in a child (talk.h): the library takes whatever comes.
#pragma once
#include <cups/cups.h>

#include <memory>
#include <string>

#include "geometry/result.h"
#include "setup/service.h"

namespace layright {

struct IppDelete {
  void operator()(ipp_t* ipp) const { ippDelete(ipp); }
};
using Ipp = std::unique_ptr<ipp_t, IppDelete>;

/// An address in its parts.
struct PressPlace {
  std::string host, resource, user;
  int port = 0;
  bool secure = false;
};
/// ipp:// or ipps://; error (usage) for another.
Result<PressPlace> press_place(std::string const& address);

class IppLine {
 public:
  /// Errors: try_again when it cannot be reached.
  static Result<std::unique_ptr<IppLine>> connect(std::string const& address, Login const& login);
  ~IppLine();
  IppLine(IppLine const&) = delete;

  Ipp request(ipp_op_t operation) const;
  /// `file` goes behind the request, what follows the reply into the descriptor `into`. Errors: try_again when no answer came or the press
  /// is busy, hold when it refused. `what` was wanted: "asking what the press offers".
  Result<Ipp> ask(Ipp request, std::string const& what, char const* file = nullptr, int into = -1);
  /// The last request failed because the press wants to know who asks, or lets only others in.
  bool wants_login() const { return wants_login_; }
  /// The last request was understood, and what it names is not there, or the press does not know the operation.
  bool not_found() const { return not_found_; }

 private:
  IppLine() = default;
  http_t* http_ = nullptr;
  std::string address_, resource_;
  bool wants_login_ = false, not_found_ = false;
};

/// The attributes of a job as IPP's own.
void add_attributes(ipp_t* request, SendRequest const& wish);

}  // namespace layright
