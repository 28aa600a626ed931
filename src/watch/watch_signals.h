// Signals to the watcher.
#pragma once
#include <signal.h>
#include <sys/signalfd.h>
#include <unistd.h>

#include <initializer_list>

#include "base/unique_fd.h"

namespace layright {

/// SIGTERM, SIGINT and SIGHUP as something to wait for.
class Signals {
 public:
  Signals() {
    sigset_t wanted;
    sigemptyset(&wanted);
    for (int s : {SIGTERM, SIGINT, SIGHUP}) sigaddset(&wanted, s);
    sigprocmask(SIG_BLOCK, &wanted, &before_);
    signal(SIGIO, SIG_IGN);  // what a lease that is broken would send
    descriptor_.reset(signalfd(-1, &wanted, SFD_NONBLOCK | SFD_CLOEXEC));
  }
  ~Signals() { sigprocmask(SIG_SETMASK, &before_, nullptr); }
  Signals(Signals const&) = delete;
  Signals& operator=(Signals const&) = delete;
  int descriptor() const { return descriptor_.get(); }
  void take() {
    signalfd_siginfo what{};
    while (read(descriptor_.get(), &what, sizeof what) == static_cast<ssize_t>(sizeof what)) (what.ssi_signo == SIGHUP ? reload : stop) = true;
  }
  bool stop = false, reload = false;

 private:
  sigset_t before_{};
  UniqueFd descriptor_;
};

}  // namespace layright
