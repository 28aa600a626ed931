// Programs that are run for us see no network and no files but their own.
#include "isolate/sandboxed_program.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdio>

#include "isolate/sandbox.h"
#include "isolate/scratch_folder.h"
#include "support/pdf_maker.h"
#include "support/program.h"

namespace layright::test {
namespace {

struct Said {
  Outcome outcome;
  std::string out;
};

Said run_words(std::vector<std::string> words, double seconds = 20, SandboxedProgram program = {}) {
  std::FILE* const out = std::tmpfile();
  int const nothing = open("/dev/null", O_RDONLY);
  program.words = std::move(words);
  program.input = nothing;
  if (program.output < 0) program.output = fileno(out);
  program.seconds = seconds;
  auto outcome = run_shut_in(program);
  std::rewind(out);
  std::string text(4096, '\0');
  text.resize(std::fread(text.data(), 1, text.size(), out));
  std::fclose(out);
  close(nothing);
  return {std::move(outcome), text};
}

}  // namespace

TEST_CASE("a program runs with what it may read and says what it has to say", "[program-child]") {
  auto const said = run_words({"head", "-c", "3", "/etc/fonts/fonts.conf"});
  INFO((said.outcome ? std::string() : said.outcome.error().message));
  CHECK(said.outcome.has_value());
  CHECK(said.out.size() == 3);
}

TEST_CASE("a person's files are out of reach", "[program-child]") {
  if (!probe_sandbox().file_rules) {
    WARN("this kernel has no Landlock: nothing to judge");
    return;
  }
  Folder folder;
  write_file(folder / "private.txt", "secret");
  auto const read = run_words({"cat", (folder / "private.txt").string()});
  CHECK_FALSE(read.outcome.has_value());
  CHECK(read.out.empty());
  auto const write = run_words({"cp", "/etc/passwd", (folder / "made.txt").string()});
  CHECK_FALSE(write.outcome.has_value());
  CHECK_FALSE(std::filesystem::exists(folder / "made.txt"));
}

TEST_CASE("of the machine's settings only those of fonts can be read", "[program-child]") {
  if (!probe_sandbox().file_rules) {
    WARN("this kernel has no Landlock: nothing to judge");
    return;
  }
  for (char const* path : {"/etc/passwd", "/etc/hostname", "/etc/hosts", "/etc/ssl", "/proc/self/environ", "/root", "/sys/kernel"}) {
    INFO(path);
    CHECK(run_words({"head", "-c", "3", path}).out.empty());
  }
}

TEST_CASE("calls that reach out of it are refused, by whatever way", "[program-child]") {
  if (!probe_sandbox().system_call_filter) {
    WARN("no filter of system calls: nothing to judge");
    return;
  }
  auto const call = [](long number, std::string const& arguments) {
    return run_words({"perl", "-e", "$b = \"\\0\" x 128; print 'done' if syscall(" + std::to_string(number) + arguments + ") >= 0"}).out;
  };
  CHECK(call(SYS_getpid, "") == "done");  // the way of asking is sound
  CHECK(call(SYS_io_uring_setup, ", 8, $b").empty());
  CHECK(call(SYS_io_uring_enter, ", 0, 0, 0, 0, 0, 0").empty());
  CHECK(call(SYS_kill, ", getppid(), 0").empty());
  CHECK(call(SYS_kill, ", -1, 0").empty());
  CHECK(call(SYS_tkill, ", getppid(), 0").empty());
  CHECK(call(SYS_tgkill, ", getppid(), getppid(), 0").empty());
  CHECK(call(SYS_pidfd_open, ", getppid(), 0").empty());
  CHECK(call(SYS_prlimit64, ", 0, 7, $b, 0").empty());
  CHECK(call(SYS_prlimit64, ", getppid(), 7, 0, $b").empty());
  CHECK(call(SYS_setrlimit, ", 7, $b").empty());
  CHECK(call(SYS_setpriority, ", 0, 0, 19").empty());
  CHECK(call(SYS_sched_setscheduler, ", 0, 0, $b").empty());
  CHECK(call(SYS_setpgid, ", 0, 0").empty());
  CHECK(call(SYS_setsid, "").empty());
  CHECK(call(SYS_fork, "").empty());
  CHECK(call(SYS_vfork, "").empty());
  CHECK(call(SYS_clone, ", 17, 0, 0, 0, 0").empty());
  CHECK(call(SYS_clone3, ", $b, 88").empty());
  for (int family : {1, 2, 10, 16, 17, 40}) CHECK(call(SYS_socket, ", " + std::to_string(family) + ", 1, 0").empty());
  CHECK(call(SYS_socketpair, ", 1, 1, 0, $b").empty());
  CHECK(call(SYS_ptrace, ", 0, 0, 0, 0").empty());
  CHECK(call(SYS_unshare, ", 0x10000000").empty());
  CHECK(call(SYS_truncate, ", '/tmp', 0").empty());
  CHECK(call(SYS_symlink, ", 'a', 'b'").empty());
  CHECK(call(SYS_link, ", '/usr/bin/perl', 'b'").empty());
  CHECK(call(SYS_chmod, ", '.', 511").empty());
}

TEST_CASE("a file that it may write to cannot be emptied by opening it to read", "[program-child]") {
  if (!probe_sandbox().system_call_filter) return;
  Folder folder;
  write_file(folder / "kept.txt", "kept");
  run_words({"perl", "-e", "use Fcntl; sysopen(my $f, '" + (folder / "kept.txt").string() + "', O_RDONLY | O_TRUNC)"});
  CHECK(std::filesystem::file_size(folder / "kept.txt") == 4);
}

TEST_CASE("it cannot begin another process, and what it says stays its own", "[program-child]") {
  if (!probe_sandbox().system_call_filter) return;
  CHECK(run_words({"perl", "-e", "my $p = fork(); print defined $p ? 'forked' : 'no'"}).out == "no");
  CHECK(run_words({"perl", "-e", "print `/usr/bin/id`"}).out.empty());
}

TEST_CASE("scratch files are limited all together, however many there are", "[program-child]") {
  SandboxedProgram program;
  program.scratch_bytes = 3u << 20;
  auto const flood = [](char const* more) {
    return std::vector<std::string>{
        "perl", "-e",
        std::string(
            "$x = 'x' x 100000; $SIG{PIPE} = 'IGNORE'; for (my $i = 0;; ++$i) { open(my $f, '>', \"$ENV{TMPDIR}/$i\") or last; print $f $x; ") +
            more + " }"};
  };
  for (char const* more :
       {"close $f; select(undef, undef, undef, 0.001)", "unlink \"$ENV{TMPDIR}/$i\"; push @f, $f; select(undef, undef, undef, 0.001)"}) {
    auto const said = run_words(flood(more), 20, program);
    REQUIRE_FALSE(said.outcome.has_value());
    CHECK(said.outcome.error().kind == ErrorKind::hold);
    CHECK(said.outcome.error().message.find("scratch files") != std::string::npos);
  }
}

TEST_CASE("memory counts with that of whoever waits for it", "[program-child]") {
  SandboxedProgram program;
  program.resident_bytes = 100u << 20;
  auto const said = run_words({"perl", "-e", "$x = 'x' x 200000000; select(undef, undef, undef, 20)"}, 20, program);
  REQUIRE_FALSE(said.outcome.has_value());
  CHECK(said.outcome.error().kind == ErrorKind::hold);
  CHECK(said.outcome.error().message.find("100 MB of memory") != std::string::npos);
}

TEST_CASE("what a program writes into memory counts as memory", "[program-child]") {
  SandboxedProgram program;
  program.resident_bytes = 100u << 20;
  program.output = memfd_create("page", MFD_CLOEXEC);
  auto const said = run_words({"perl", "-e", "$x = 'x' x 1000000; print $x for 1..150; select(undef, undef, undef, 20)"}, 20, program);
  close(program.output);
  REQUIRE_FALSE(said.outcome.has_value());
  CHECK(said.outcome.error().message.find("100 MB of memory") != std::string::npos);
}

TEST_CASE("scratch folders that a death left behind are removed, those in use are not", "[program-child]") {
  ScratchFolder const used;
  REQUIRE(used.ok());
  auto const left = std::filesystem::path(used.path()).replace_filename("layright-scratch-leftby");
  std::filesystem::create_directories(left / "deep");
  write_file(left / "deep" / "file", "x");
  remove_left_scratch();
  CHECK_FALSE(std::filesystem::exists(left));
  CHECK(std::filesystem::exists(used.path()));
}

TEST_CASE("sockets are refused", "[program-child]") {
  if (!probe_sandbox().system_call_filter) {
    WARN("no filter of system calls: nothing to judge");
    return;
  }
  auto const said = run_words({"perl", "-e", "use Socket; socket(my $s, PF_INET, SOCK_STREAM, 0) and print 'open'"});
  CHECK(said.out.empty());
}

TEST_CASE("a program that takes too long, fails or is not there is reported", "[program-child]") {
  auto const slow = run_words({"sleep", "60"}, 0.3);
  REQUIRE_FALSE(slow.outcome.has_value());
  CHECK(slow.outcome.error().kind == ErrorKind::hold);
  auto const failing = run_words({"ls", "/etc/no-such-file"});
  REQUIRE_FALSE(failing.outcome.has_value());
  CHECK(failing.outcome.error().message.find("no-such-file") != std::string::npos);
  auto const missing = run_words({"no-such-program-here"});
  REQUIRE_FALSE(missing.outcome.has_value());
  CHECK(missing.outcome.error().message.find("not installed") != std::string::npos);
}

}  // namespace layright::test
