// How a session with the server is set up, and what is put into other words for it.
#pragma once
#include <string>

namespace layright {

/// Adds to an address how long to wait for a server or a network that does not answer, unless it says so itself.
std::string with_timeouts(std::string address);

/// SQL that each session begins with: the shop's own time, limits of waiting, what is committed is on the disk.
std::string session_settings();

/// A shell pattern as a regular expression over the bytes of a name, each as the character of its number (Latin-1).
std::string regular_expression(std::string const& pattern);

/// Of what the server or libpq says.
std::string first_line(std::string text);

}  // namespace layright
