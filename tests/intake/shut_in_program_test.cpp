// Programs that are run for us see no network and no files but their own.
#include "intake/shut_in_program.h"

#include <fcntl.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdio>

#include "intake/sandbox.h"
#include "support/pdf_maker.h"
#include "support/program.h"

namespace layright::test {
namespace {

struct Said {
  Outcome outcome;
  std::string out;
};

Said run_words(std::vector<std::string> words, double seconds = 20) {
  std::FILE* const out = std::tmpfile();
  int const nothing = open("/dev/null", O_RDONLY);
  ShutInProgram program;
  program.words = std::move(words);
  program.input = nothing;
  program.output = fileno(out);
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
  auto const said = run_words({"head", "-c", "3", "/etc/passwd"});
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

TEST_CASE("sockets are refused", "[program-child]") {
  auto const said = run_words({"perl", "-e", "use Socket; socket(my $s, PF_INET, SOCK_STREAM, 0) and print 'open'"});
  CHECK(said.out.empty());
}

TEST_CASE("a program that takes too long, fails or is not there is told", "[program-child]") {
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
