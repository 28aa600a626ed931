// A CUPS of the test's own on loopback, with queues that write what leaves their filters into files. Needs root; ends with the object.
#pragma once
#include <sys/types.h>

#include <filesystem>
#include <string>

class PrivateCups {
 public:
  PrivateCups();
  ~PrivateCups();
  PrivateCups(PrivateCups const&) = delete;

  /// Makes a queue with a PPD; `more` are further words for lpadmin. Throws std::runtime_error when CUPS says that it went wrong.
  void add(std::string const& name, std::string const& ppd, std::string const& more = "") const;
  /// Runs one of CUPS' commands against it and gives what it says.
  std::string command(std::string const& words) const;
  std::string address(std::string const& name) const;
  /// "127.0.0.1:PORT", for CUPS_SERVER.
  std::string server() const;
  std::filesystem::path output(std::string const& name) const;
  std::string printed(std::string const& name) const;

  std::filesystem::path folder;
  int port = 0;

 private:
  pid_t server_ = 0;
};
