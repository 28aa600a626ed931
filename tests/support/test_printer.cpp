#include "support/test_printer.h"

#include <arpa/inet.h>
#include <signal.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <fstream>
#include <stdexcept>
#include <thread>

#include "support/pdf_maker.h"
#include "support/places.h"

namespace fs = std::filesystem;

namespace {

/// Nothing where there is no such file yet.
std::string read_if_there(fs::path const& path) { return fs::exists(path) ? layright::test::read_file(path) : std::string(); }

int on_loopback(int port, bool listen_there) {
  int const fd = socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(static_cast<std::uint16_t>(port));
  address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  auto const* any = reinterpret_cast<sockaddr const*>(&address);
  int const result = listen_there ? bind(fd, any, sizeof address) : connect(fd, any, sizeof address);
  if (result != 0) {
    close(fd);
    return -1;
  }
  return fd;
}

}  // namespace

int free_port() {
  int const fd = on_loopback(0, true);
  sockaddr_in address{};
  socklen_t size = sizeof address;
  getsockname(fd, reinterpret_cast<sockaddr*>(&address), &size);
  close(fd);
  return ntohs(address.sin_port);
}

bool wait_for_port(int port) {
  for (auto const end = std::chrono::steady_clock::now() + std::chrono::seconds(15); std::chrono::steady_clock::now() < end;) {
    if (int const fd = on_loopback(port, false); fd >= 0) {
      close(fd);
      return true;
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
  }
  return false;
}

pid_t start_command(std::string const& command) {
  pid_t const pid = fork();
  if (pid == 0) {
    setpgid(0, 0);
    execl("/bin/sh", "sh", "-c", command.c_str(), static_cast<char*>(nullptr));
    _exit(127);
  }
  setpgid(pid, pid);
  return pid;
}

void end_command(pid_t pid) {
  if (pid <= 0) return;
  kill(-pid, SIGTERM);
  waitpid(pid, nullptr, 0);
}

TestPrinter::TestPrinter(std::string const& end, std::vector<std::pair<std::string, std::string>> const& changes) {
  static std::atomic<int> count{0};
  folder_ = fs::temp_directory_path() / ("layright-press-" + std::to_string(getpid()) + "-" + std::to_string(count++));
  fs::create_directories(folder_ / "spool");
  fs::create_directories(folder_ / "out");
  auto conf = layright::test::read_file(std::string(layright::test::kSource) + "/testfiles/press/bench.conf");
  for (auto const& [was, is] : changes) {
    auto const at = was.empty() ? conf.size() : conf.find(was);
    if (at == std::string::npos) throw std::runtime_error("bench.conf has no " + was);
    conf.replace(at, was.size(), is);
  }
  std::ofstream(folder_ / "press.conf") << conf;
  port_ = free_port();
  std::string const d = folder_.string(), here = std::string(layright::test::kSource) + "/tests/setup/printer";
  bus_ = start_command("exec timeout 120 dbus-daemon --session --nofork --nopidfile --address=unix:path='" + d + "/bus' >/dev/null 2>&1");
  for (int i = 0; i < 200 && !fs::exists(folder_ / "bus"); ++i) std::this_thread::sleep_for(std::chrono::milliseconds(20));
  printer_ = start_command("DBUS_SYSTEM_BUS_ADDRESS='unix:path=" + d + "/bus' PRESS_OUT='" + d + "/out' PRESS_END='" + end +
                           "' exec timeout 120 ippeveprinter -r off -n localhost -p " + std::to_string(port_) + " -d '" + d + "/spool' -k -a '" + d +
                           "/press.conf' -c '" + here + "/receive.sh' Bench >'" + d + "/log' 2>&1");
  if (!wait_for_port(port_)) throw std::runtime_error("ippeveprinter did not start (cups-ipp-utils, dbus): " + read_if_there(folder_ / "log"));
}

TestPrinter::~TestPrinter() {
  refill();
  end_command(printer_);
  end_command(bus_);
  std::error_code ignored;
  fs::remove_all(folder_, ignored);
}

void TestPrinter::refill() const { std::ofstream(folder_ / "out" / "refilled") << "x"; }
int TestPrinter::jobs() const {
  auto const lines = read_if_there(folder_ / "out" / "jobs");
  return static_cast<int>(std::count(lines.begin(), lines.end(), '\n'));
}
std::string TestPrinter::asked() const { return read_if_there(folder_ / "out" / "job.txt"); }
std::string TestPrinter::received() const { return read_if_there(folder_ / "out" / "job.pdf"); }
