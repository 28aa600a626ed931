// Mapped files: what is let go of is read again, and hashed the same.
#include "isolate/input_file.h"
#include "base/sha256.h"

#include <signal.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdio>
#include <fstream>
#include <sstream>

#include "document/document.h"
#include "isolate/worker.h"
#include "support/program.h"

using namespace layright;

TEST_CASE("a mapped file that was let go of is still what it was") {
  std::FILE* const file = std::tmpfile();
  std::string text(40u << 20, 'a');
  for (std::size_t i = 0; i < text.size(); i += 977) text[i] = static_cast<char>(i >> 7);
  REQUIRE(std::fwrite(text.data(), 1, text.size(), file) == text.size());
  std::fflush(file);
  auto const mapped = map_whole(fileno(file));
  auto const same = [&] { return std::string_view(reinterpret_cast<char const*>(mapped.data()), mapped.size()) == text; };
  CHECK(same());
  drop_cached_pages(mapped);
  drop_cached_pages(mapped.subspan(5, 9000));  // a part that begins and ends within pages
  drop_cached_pages({});
  CHECK(same());
  auto const bytes = std::as_bytes(std::span(text.data(), text.size()));
  CHECK(digest_of_mapped(mapped) == sha256_hex(bytes));
  CHECK(digest_of_mapped(mapped.first(1234)) == sha256_hex(bytes.first(1234)));
  CHECK(digest_of_mapped({}) == sha256_hex({}));
  std::fclose(file);
}

namespace {

struct Reading : Job {
  WorkerTask task;
  bool started = false;
  std::optional<WorkerEnd> end;
  std::string reported;
  std::optional<WorkerTask> next() override { return std::exchange(started, true) ? std::nullopt : std::optional(task); }
  void message(Message const& m) override { reported += m.bytes; }
  void ended(WorkerEnd const& e) override { end = e; }
};

std::shared_ptr<Reading> read_in_child(std::shared_ptr<InputFile> const& input) {
  auto job = std::make_shared<Reading>();
  job->task.input = input;
  job->task.work = [input](Sender const& s) { s.send('d', digest_of_mapped(input->bytes())); };
  bool given = false;
  run_jobs([&]() -> std::shared_ptr<Job> { return std::exchange(given, true) ? nullptr : job; }, 1);
  return job;
}

}  // namespace

TEST_CASE("only children map a customer's file, so that one which becomes shorter ends no parent") {
  test::Folder folder;
  auto const path = folder / "art.pdf";
  std::string const text(200000, 'a');
  std::ofstream(path) << text;
  auto const input = InputFile::open(path);
  REQUIRE(input);
  CHECK((*input)->head().size() == 4096);
  CHECK((*input)->bytes().size() == text.size());
  std::stringstream maps;
  maps << std::ifstream("/proc/self/maps").rdbuf();
  CHECK(maps.str().find(path.string()) == std::string::npos);
  auto const whole = read_in_child(*input);
  CHECK(whole->reported == sha256_hex(std::as_bytes(std::span(text.data(), text.size()))));
  std::filesystem::resize_file(path, 10);
  auto const shorter = read_in_child(*input);
  REQUIRE(shorter->end);
  CHECK(shorter->end->how == WorkerEnd::How::crashed);
  CHECK((*input)->head().size() == 10);
}

TEST_CASE("a link is opened for a person, never for the watcher") {
  test::Folder folder;
  std::ofstream(folder / "art.pdf") << "art";
  std::filesystem::create_symlink(folder / "art.pdf", folder / "link.pdf");
  CHECK(InputFile::open(folder / "link.pdf"));
  auto const refused = InputFile::open(folder / "link.pdf", false);
  REQUIRE_FALSE(refused);
  CHECK(refused.error().message.find("is a link") != std::string::npos);
}
