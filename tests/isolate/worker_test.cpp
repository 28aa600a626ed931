// The children that read customers' files: how they end, and what they cannot do.
#include "isolate/worker.h"

#include <fcntl.h>
#include <signal.h>
#include <sys/mman.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cerrno>
#include <chrono>
#include <cstdlib>
#include <vector>

#include "base/memory_watched.h"
#include "isolate/memory_in_use.h"

namespace layright {
namespace {

struct OneTask : Job {
  WorkerTask task;
  bool started = false;
  std::vector<Message> messages;
  std::optional<WorkerEnd> end;
  std::optional<WorkerTask> next() override {
    if (started) return std::nullopt;
    started = true;
    return task;
  }
  void message(Message const& m) override { messages.push_back(m); }
  void ended(WorkerEnd const& e) override { end = e; }
};

std::shared_ptr<OneTask> run_one(std::function<void(Sender const&)> work, double seconds = 20) {
  auto job = std::make_shared<OneTask>();
  job->task.work = std::move(work);
  job->task.seconds = seconds;
  bool given = false;
  run_jobs([&]() -> std::shared_ptr<Job> { return std::exchange(given, true) ? nullptr : job; }, 1);
  REQUIRE(job->end);
  return job;
}

using How = WorkerEnd::How;

}  // namespace

TEST_CASE("a child tells what it has to tell, in order and whole", "[worker]") {
  std::string const large(3'000'000, 'x');
  auto const job = run_one([&](Sender const& s) {
    s.send('a', "first");
    s.send('b', {});
    s.send('c', large);
  });
  CHECK(job->end->how == How::finished);
  REQUIRE(job->messages.size() == 3);
  CHECK(job->messages[0].bytes == "first");
  CHECK(job->messages[1].kind == 'b');
  CHECK(job->messages[2].bytes == large);
}

TEST_CASE("a child's death is reported as what it is", "[worker]") {
  SECTION("a signal") {
    // A sanitizer would catch it and end the child in its own way.
    auto const job = run_one([](Sender const&) {
      signal(SIGSEGV, SIG_DFL);
      raise(SIGSEGV);
      abort();
    });
    CHECK(job->end->how == How::crashed);
    CHECK(job->end->signal != 0);
  }
  SECTION("an exception") {
    CHECK(run_one([](Sender const&) { throw 1; })->end->how == How::crashed);
  }
  SECTION("no memory") {
    CHECK(run_one([](Sender const&) { throw std::bad_alloc(); })->end->how == How::out_of_memory);
  }
  SECTION("a hang, by the clock; what it said before is kept") {
    auto const before = std::chrono::steady_clock::now();
    auto const job = run_one(
        [](Sender const& s) {
          s.send('p', "page 1");
          for (;;) usleep(1000);
        },
        0.1);
    CHECK(job->end->how == How::out_of_time);
    CHECK(job->messages.size() == 1);
    CHECK(std::chrono::steady_clock::now() - before < std::chrono::seconds(10));
  }
  SECTION("work without end, by its processor time") {
    CHECK(run_one(
              [](Sender const&) {
                volatile int turns = 0;
                for (;;) turns = turns + 1;
              },
              0.3)
              ->end->how == How::out_of_time);
  }
  SECTION("a child that waits for its turn longer than its limit is none that hangs") {
    auto const job = run_one([](Sender const&) { usleep(600000); }, 0.3);
    CHECK(job->end->how == How::finished);
  }
  SECTION("a message that claims to be larger than any may be") {
    auto const job = run_one([](Sender const&) {
      char const claim[] = {'p', '\xff', '\xff', '\xff', '\x7f'};
      for (int d = 3; d < 64; ++d) (void)!write(d, claim, sizeof claim);
      for (;;) usleep(1000);
    });
    CHECK(job->end->how == How::flooded);
  }
  SECTION("the pipe closed, but the process goes on") {
    auto const job = run_one([](Sender const&) {
      for (int d = 3; d < 64; ++d) close(d);
      for (;;) usleep(1000);
    });
    CHECK(job->end->how == How::crashed);
  }
}

TEST_CASE("a child that always has something to tell comes to an end as well", "[worker]") {
  auto job = std::make_shared<OneTask>();
  job->task.seconds = 20;
  job->task.seconds_in_all = 1;
  job->task.work = [](Sender const& s) {
    volatile int turns = 0;
    for (;;) {
      for (int i = 0; i < 1000000; ++i) turns = turns + 1;
      s.send('p', "a page more");
    }
  };
  bool given = false;
  run_jobs([&]() -> std::shared_ptr<Job> { return std::exchange(given, true) ? nullptr : job; }, 1);
  REQUIRE(job->end);
  CHECK(job->end->how == How::out_of_time);
  CHECK(job->end->in_all);
  CHECK(job->end->seconds >= 0.5);
  CHECK(job->messages.size() > 1);
}

TEST_CASE("what a child had others do counts as its own time", "[worker]") {
  auto job = std::make_shared<OneTask>();
  job->task.prepare = [] {
    if (std::system("perl -e '1 while times < 0.3'") != 0) std::abort();
  };
  job->task.work = [](Sender const&) {};
  bool given = false;
  run_jobs([&]() -> std::shared_ptr<Job> { return std::exchange(given, true) ? nullptr : job; }, 1);
  CHECK(job->end->how == How::finished);
  CHECK(job->end->seconds > 0.25);
}

TEST_CASE("where too many work for long and others wait, the latest is broken off", "[worker]") {
  auto const endless = [] {
    auto job = std::make_shared<OneTask>();
    job->task.work = [](Sender const&) {
      for (;;) usleep(1000);
    };
    return job;
  };
  WorkerPool pool(1, 0.05);
  auto const until = [&](auto const& done) {
    while (!done()) pool.wait({}, std::chrono::steady_clock::now() + std::chrono::milliseconds(20));
  };
  for (int i = 0; i < 2; ++i) {
    pool.start(endless());
    until([&] { return pool.has_room(); });  // it works for long, and has given its place back
  }
  CHECK_FALSE(pool.has_room_for_heavy());
  auto const third = endless();
  pool.start(third);
  CHECK_FALSE(pool.has_room());
  pool.others_wait(true);
  until([&] { return pool.has_room(); });
  auto const back = pool.take_broken_off();
  REQUIRE(back.size() == 1);
  CHECK(back.front() == third);
  CHECK_FALSE(third->end);  // nothing was told to it: it begins anew as another
  CHECK(pool.size() == 2);
}

TEST_CASE("behind the sandbox nothing of the machine can be reached", "[worker][sandbox]") {
  auto const parts = probe_sandbox();
  // "on"/"off" for each thing tried, so that a kernel that lacks a part makes the test say which.
  auto const job = run_one([](Sender const& s) {
    auto const report = [&](char const* what, bool done) { s.send(done ? '!' : '.', what); };
    report("open a file to read", open("/etc/passwd", O_RDONLY) >= 0);
    report("make a file", open("/tmp/layright-should-not-be", O_WRONLY | O_CREAT, 0600) >= 0);
    if (probe_sandbox().no_new_privileges) report("start a process", true);
    report("open a socket", socket(AF_INET, SOCK_STREAM, 0) >= 0);
    report("run a program", execl("/bin/true", "true", nullptr) >= 0);
    report("end another process", kill(getppid(), 0) == 0);
  });
  CHECK(job->end->how == How::finished);
  bool const filtered = parts.system_call_filter;
  for (auto const& m : job->messages) {
    INFO(m.bytes);
    bool const file = m.bytes.find("file") != std::string::npos;
    if (filtered || (file && parts.file_rules)) CHECK(m.kind == '.');
  }
  if (kMemoryIsWatched) {
    WARN("sanitizer builds have neither the filter of system calls nor the memory limit");
  } else {
    CHECK(parts.system_call_filter);
    CHECK(parts.memory_limit);
  }
  CHECK(parts.no_new_privileges);
}

TEST_CASE("memory beyond the limit is refused", "[worker][sandbox]") {
  if (!probe_sandbox().memory_limit) {
    WARN("sanitizer builds have no memory limit");
    return;
  }
  auto job = std::make_shared<OneTask>();
  job->task.limits.memory_bytes = 64u << 20;
  job->task.work = [](Sender const& s) {
    std::vector<char> fits(16u << 20, 'a');
    s.send('f', std::string(1, fits[fits.size() / 2]));
    std::vector<char> does_not(256u << 20, 'b');
    s.send('n', std::string(1, does_not[does_not.size() / 2]));
  };
  bool given = false;
  run_jobs([&]() -> std::shared_ptr<Job> { return std::exchange(given, true) ? nullptr : job; }, 1);
  CHECK(job->end->how == How::out_of_memory);
  CHECK(job->messages.size() == 1);
}

TEST_CASE("memory counts with that of all that a child has begun, and of what it writes", "[worker]") {
  if (kMemoryIsWatched) return;
  auto job = std::make_shared<OneTask>();
  job->task.limits.memory_bytes = 16u << 20;
  constexpr std::size_t kEach = 120u << 20;  // one alone is within what a child may load for itself
  SECTION("two programs at once") {
    job->task.prepare = [] {
      for (int i = 0; i < 2; ++i)
        if (fork() == 0) {
          std::vector<char> const taken(kEach, 'a');
          for (;;) usleep(1000000 - static_cast<unsigned>(taken[kEach / 2]));
        }
      while (wait(nullptr) > 0) {
      }
    };
    job->task.work = [](Sender const&) {};
  }
  SECTION("a file that lies in memory") {
    int const file = memfd_create("page", MFD_CLOEXEC);
    job->task.keep = {file};
    job->task.work = [file](Sender const&) {
      std::vector<char> const piece(1u << 20, 'a');
      for (std::size_t i = 0; i < 2 * kEach / piece.size(); ++i)
        if (write(file, piece.data(), piece.size()) < 0) return;
      for (;;) usleep(1000);
    };
  }
  bool given = false;
  run_jobs([&]() -> std::shared_ptr<Job> { return std::exchange(given, true) ? nullptr : job; }, 1);
  for (int const file : job->task.keep) close(file);
  REQUIRE(job->end);
  CHECK(job->end->how == How::out_of_memory);
}

TEST_CASE("several jobs run side by side and each gets its own messages", "[worker]") {
  std::vector<std::shared_ptr<OneTask>> jobs;
  for (int i = 0; i < 20; ++i) {
    auto job = std::make_shared<OneTask>();
    job->task.work = [i](Sender const& s) { s.send('n', std::to_string(i)); };
    jobs.push_back(job);
  }
  std::size_t next = 0;
  run_jobs([&]() -> std::shared_ptr<Job> { return next == jobs.size() ? nullptr : jobs[next++]; }, 3);
  for (std::size_t i = 0; i < jobs.size(); ++i) {
    REQUIRE(jobs[i]->messages.size() == 1);
    CHECK(jobs[i]->messages[0].bytes == std::to_string(i));
  }
}

TEST_CASE("memory of a child counts with all that it has begun, by the kernel's lists as by a look at all processes", "[worker]") {
  constexpr std::size_t kBytes = 48u << 20;
  auto const hold = [] {
    auto* const memory = static_cast<volatile char*>(mmap(nullptr, kBytes, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0));
    for (std::size_t i = 0; i < kBytes; i += 4096) memory[i] = 1;
  };
  int ends[2];
  REQUIRE(pipe(ends) == 0);
  pid_t const child = fork();
  if (child == 0) {
    setpgid(0, 0);
    for (int i = 0; i < 2; ++i)
      if (fork() == 0) {
        if (i == 0 && fork() == 0) hold();
        hold();
        (void)!write(ends[1], "r", 1);
        for (;;) pause();
      }
    hold();
    (void)!write(ends[1], "r", 1);
    for (;;) pause();
  }
  char reported[4];
  for (int i = 0; i < 4; ++i) REQUIRE(read(ends[0], reported, 1) == 1);
  auto const scanned = ProcessTree(false).memory_of(child);
  CHECK(scanned > 4 * kBytes);
  if (lists_children()) CHECK(ProcessTree(true).memory_of(child) == scanned);
  else WARN("this kernel keeps no lists of children");
  CHECK(ProcessTree().memory_of(child) == scanned);
  CHECK(memory_of_process(child) * 2 < scanned);
  kill(-child, SIGKILL);
  while (waitpid(child, nullptr, 0) < 0 && errno == EINTR) {
  }
  close(ends[0]);
  close(ends[1]);
}

}  // namespace layright
