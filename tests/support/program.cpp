#include "support/program.h"

#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <stdexcept>
#include <system_error>

namespace layright::test {
namespace {

void read_more(int descriptor, std::string& into, bool& open) {
  std::array<char, 65536> buffer;
  ssize_t const n = ::read(descriptor, buffer.data(), buffer.size());
  if (n > 0) into.append(buffer.data(), static_cast<std::size_t>(n));
  else if (n == 0 || errno != EINTR) open = false;
}

}  // namespace

Ran run(std::vector<std::string> const& words, std::filesystem::path const& folder, std::string const& input) {
  int in[2], out[2], err[2];
  if (pipe2(in, O_CLOEXEC) || pipe2(out, O_CLOEXEC) || pipe2(err, O_CLOEXEC)) throw std::runtime_error("no pipe");
  std::vector<char*> arguments;
  for (auto const& w : words) arguments.push_back(const_cast<char*>(w.c_str()));
  arguments.push_back(nullptr);
  pid_t const child = fork();
  if (child == 0) {
    dup2(in[0], 0);
    dup2(out[1], 1);
    dup2(err[1], 2);
    if (chdir(folder.c_str()) != 0) _exit(126);
    execvp(arguments[0], arguments.data());
    _exit(127);
  }
  close(in[0]);
  close(out[1]);
  close(err[1]);
  if (child < 0) throw std::runtime_error("no process");
  auto const before = signal(SIGPIPE, SIG_IGN);
  fcntl(in[1], F_SETFL, O_NONBLOCK);
  Ran ran;
  std::size_t written = 0;
  bool feeding = true, out_open = true, err_open = true;
  while (feeding || out_open || err_open) {
    if (feeding && written == input.size()) {
      close(in[1]);
      feeding = false;
    }
    std::array<pollfd, 3> p{{{feeding ? in[1] : -1, POLLOUT, 0}, {out_open ? out[0] : -1, POLLIN, 0}, {err_open ? err[0] : -1, POLLIN, 0}}};
    poll(p.data(), p.size(), -1);
    if (feeding && p[0].revents) {
      ssize_t const n = ::write(in[1], input.data() + written, input.size() - written);
      written = n < 0 && errno != EAGAIN ? input.size() : written + static_cast<std::size_t>(n < 0 ? 0 : n);
    }
    if (p[1].revents) read_more(out[0], ran.out, out_open);
    if (p[2].revents) read_more(err[0], ran.err, err_open);
  }
  close(out[0]);
  close(err[0]);
  int status = 0;
  waitpid(child, &status, 0);
  signal(SIGPIPE, before);
  ran.status = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  return ran;
}

std::string shell(std::string const& command) { return run({"sh", "-c", "exec 2>&1; " + command}, ".").out; }

Folder::Folder() {
  auto pattern = (std::filesystem::temp_directory_path() / ("layright-test-" + std::string(6, 'X'))).native();  // mkdtemp replaces the six letters
  if (!mkdtemp(pattern.data())) throw std::runtime_error("no temporary folder");
  path_ = pattern;
}

Folder::~Folder() {
  std::error_code ignored;
  std::filesystem::permissions(path_, std::filesystem::perms::owner_all, ignored);  // a test may have taken them
  std::filesystem::remove_all(path_, ignored);
}

}  // namespace layright::test
