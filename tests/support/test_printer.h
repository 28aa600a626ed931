// An invented press that speaks IPP on loopback: CUPS' ippeveprinter with tests/setup/printer, on a private bus. Ends with the object.
#pragma once
#include <sys/types.h>

#include <filesystem>
#include <string>
#include <utility>
#include <vector>

class TestPrinter {
 public:
  /// `end`: "" prints at once, "fail" gives up, "empty" waits until refill() is called.
  /// `changes`: what stands otherwise in its attributes, testfiles/press/bench.conf: each first text becomes the second; empty: the second is added.
  explicit TestPrinter(std::string const& end = "", std::vector<std::pair<std::string, std::string>> const& changes = {});
  ~TestPrinter();
  TestPrinter(TestPrinter const&) = delete;

  int port() const { return port_; }
  std::string address() const { return "ipp://localhost:" + std::to_string(port_) + "/ipp/print"; }
  void refill() const;
  /// How often it was given a job; what it was asked (IPP_… lines); the bytes that it got.
  int jobs() const;
  std::string asked() const;
  std::string received() const;
  std::filesystem::path const& folder() const { return folder_; }

 private:
  std::filesystem::path folder_;
  int port_ = 0;
  pid_t bus_ = 0, printer_ = 0;
};

/// A port on loopback that was free a moment ago.
int free_port();
/// Waits until something listens there, at most some seconds.
bool wait_for_port(int port);
/// Starts a shell command in a process group of its own.
pid_t start_command(std::string const& command);
void end_command(pid_t pid);
