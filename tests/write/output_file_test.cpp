// An output appears whole or not at all, and never over an input.
#include <catch2/catch.hpp>

#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>

#include "support/pdf_maker.h"
#include "support/program.h"
#include "write/output_file.h"

using namespace layright;
using layright::test::bytes_of;
using layright::test::Folder;
namespace fs = std::filesystem;

namespace {

int entries(Folder const& folder) { return static_cast<int>(std::distance(fs::directory_iterator(folder.path()), fs::directory_iterator())); }

Outcome write_whole(fs::path const& path, std::string const& text, bool replace = false, std::vector<fs::path> const& inputs = {}) {
  auto output = OutputFile::create(path, replace, inputs);
  if (!output) return output.error();
  if (auto written = output->write(bytes_of(text)); !written) return written.error();
  return output->commit();
}

ErrorKind refusal(fs::path const& path, bool replace = false, std::vector<fs::path> const& inputs = {}) {
  auto const outcome = write_whole(path, "new", replace, inputs);
  REQUIRE_FALSE(outcome);
  CHECK(outcome.error().message.find(path.string()) != std::string::npos);
  return outcome.error().kind;
}

}  // namespace

TEST_CASE("an output appears when it is committed, not before") {
  Folder folder;
  auto output = OutputFile::create(folder / "out.pdf", false, {});
  REQUIRE(output);
  std::string const text = "whole";
  REQUIRE(output->write(bytes_of(text)));
  CHECK_FALSE(fs::exists(folder / "out.pdf"));
  REQUIRE(output->commit());
  CHECK(test::read_file(folder / "out.pdf") == "whole");
  CHECK(entries(folder) == 1);
}

TEST_CASE("an output that is not committed leaves nothing behind") {
  Folder folder;
  {
    auto output = OutputFile::create(folder / "out.pdf", false, {});
    REQUIRE(output);
    std::string const text = "half";
    REQUIRE(output->write(bytes_of(text)));
  }
  CHECK(entries(folder) == 0);
}

TEST_CASE("an earlier output is replaced only when that is asked for") {
  Folder folder;
  test::write_file(folder / "out.pdf", "old");
  CHECK(refusal(folder / "out.pdf") == ErrorKind::cannot_create);
  CHECK(test::read_file(folder / "out.pdf") == "old");
  REQUIRE(write_whole(folder / "out.pdf", "new", true));
  CHECK(test::read_file(folder / "out.pdf") == "new");
  CHECK(entries(folder) == 1);
}

TEST_CASE("a file that comes meanwhile is not replaced") {
  Folder folder;
  auto output = OutputFile::create(folder / "out.pdf", false, {});
  REQUIRE(output);
  test::write_file(folder / "out.pdf", "somebody else's");
  auto const outcome = output->commit();
  REQUIRE_FALSE(outcome);
  CHECK(outcome.error().kind == ErrorKind::cannot_create);
  CHECK(test::read_file(folder / "out.pdf") == "somebody else's");
  CHECK(entries(folder) == 1);
}

TEST_CASE("an input is never written over, also through links") {
  Folder folder;
  auto const input = folder / "in.pdf";
  test::write_file(input, "customer's");
  fs::create_symlink(input, folder / "soft.pdf");
  fs::create_hard_link(input, folder / "hard.pdf");
  fs::create_directory_symlink(folder.path(), folder / "again");
  for (auto const* name : {"in.pdf", "soft.pdf", "hard.pdf", "again/in.pdf", "./in.pdf"}) {
    INFO(name);
    CHECK(refusal(folder / name, true, {input}) == ErrorKind::cannot_create);
    CHECK(test::read_file(input) == "customer's");
  }
}

TEST_CASE("names that cannot be a file are refused") {
  Folder folder;
  fs::create_directory(folder / "sub");
  REQUIRE(mkfifo((folder / "pipe").c_str(), 0600) == 0);
  test::write_file(folder / "plain", "x");
  CHECK(refusal(folder / "sub", true) == ErrorKind::cannot_create);
  CHECK(refusal(folder / "sub/", true) == ErrorKind::cannot_create);
  CHECK(refusal(folder / "pipe", true) == ErrorKind::cannot_create);
  CHECK(refusal(folder / "missing/out.pdf") == ErrorKind::cannot_create);
  CHECK(refusal(folder / "plain/out.pdf") == ErrorKind::cannot_create);
  CHECK(refusal(folder / std::string(300, 'n')) == ErrorKind::cannot_create);
  CHECK(entries(folder) == 3);
}

TEST_CASE("a folder that can only be read is refused") {
  Folder folder;
  fs::permissions(folder.path(), fs::perms::owner_read | fs::perms::owner_exec);
  // Root may write anywhere, so the attempt is made by a child with other rights where this runs as root.
  auto const child = fork();
  if (child == 0) {
    if (geteuid() == 0 && (chown(folder.path().c_str(), 65534, 65534) != 0 || setuid(65534) != 0)) _exit(3);
    auto const output = OutputFile::create(folder / "out.pdf", false, {});
    _exit(!output && output.error().kind == ErrorKind::cannot_create ? 0 : 1);
  }
  int status = 0;
  waitpid(child, &status, 0);
  CHECK(WIFEXITED(status));
  CHECK(WEXITSTATUS(status) == 0);
  CHECK(entries(folder) == 0);
}

TEST_CASE("a disk that takes no more gives an error and leaves nothing behind") {
  Folder folder;
  auto const child = fork();
  if (child == 0) {
    std::signal(SIGXFSZ, SIG_IGN);
    rlimit const limit{4096, 4096};
    setrlimit(RLIMIT_FSIZE, &limit);
    auto output = OutputFile::create(folder / "out.pdf", false, {});
    std::string const text(10000, 'x');
    auto const outcome = output->write(bytes_of(text));
    _exit(!outcome && outcome.error().kind == ErrorKind::io ? 0 : 1);
  }
  int status = 0;
  waitpid(child, &status, 0);
  CHECK(WIFEXITED(status));
  CHECK(WEXITSTATUS(status) == 0);
  CHECK(entries(folder) == 0);
}

TEST_CASE("what was written can be read back before it is committed") {
  Folder folder;
  auto output = OutputFile::create(folder / "out.pdf", false, {});
  REQUIRE(output);
  std::string const text = "read me";
  REQUIRE(output->write(bytes_of(text)));
  char back[7];
  REQUIRE(pread(output->descriptor(), back, 7, 0) == 7);
  CHECK(std::string(back, 7) == "read me");
}

TEST_CASE("an earlier file that is set aside comes back unless another takes its name") {
  Folder folder;
  std::string const text = "new";
  REQUIRE(write_whole(folder / "out.pdf", "old"));
  SECTION("nothing is committed") {
    auto output = OutputFile::create(folder / "out.pdf", true, {});
    REQUIRE(output);
    REQUIRE(output->set_earlier_aside());
    CHECK_FALSE(fs::exists(folder / "out.pdf"));
  }
  SECTION("what is committed is taken back") {
    auto output = OutputFile::create(folder / "out.pdf", true, {});
    REQUIRE((output && output->write(bytes_of(text)) && output->set_earlier_aside() && output->commit()));
    output->take_back();
  }
  SECTION("what is committed stays") {
    {
      auto output = OutputFile::create(folder / "out.pdf", true, {});
      REQUIRE((output && output->write(bytes_of(text)) && output->set_earlier_aside() && output->commit()));
    }
    CHECK(test::read_file(folder / "out.pdf") == "new");
    CHECK(entries(folder) == 1);
    return;
  }
  CHECK(test::read_file(folder / "out.pdf") == "old");
  CHECK(entries(folder) == 1);
}
