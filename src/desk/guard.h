// Who is let in: requests that a page of another site, or a name that was turned to this machine, could send are refused before they are looked at.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "desk/server.h"

namespace layright {

/// What a Host header may say of a desk that listens there: RFC 9110, 7.2. Anything else comes by a name that somebody has turned to this machine.
/// `names`: those that the shop has given it.
std::vector<std::string> own_hosts(ListenAddress const& address, int port, std::vector<std::string> const& names = {});

/// Why a request is not answered; nothing: it may be. A change must say by its Origin (RFC 6454) that it comes from a page of this desk.
std::optional<WebAnswer> refusal(WebRequest const& request, std::vector<std::string> const& hosts, bool tls = false);

/// What every answer says to the browser: no scripts but ours, nothing from elsewhere, shown in no other page, told to nobody.
void add_safe_headers(WebAnswer& answer, bool tls = false);

/// An answer that says what went wrong, as {"error": …}.
WebAnswer error_answer(int status, std::string const& message);

}  // namespace layright
