// A private CUPS on loopback with a queue that has our PPD: a real job through its own filters. What leaves the queue is judged as
// PostScript by Ghostscript: neither scaled, turned nor shifted, and the size code is there.
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <thread>

#include "setup/press_setup.h"
#include "setup/queue_guards.h"
#include "setup/send.h"
#include "setup/state_words.h"
#include "support/pdf_maker.h"
#include "support/places.h"
#include "support/press_target.h"
#include "support/private_cups.h"
#include "support/program.h"
#include "support/send_to.h"
#include "support/test_printer.h"

using namespace layright;
using layright::test::read_file;
using layright::test::shell;
namespace fs = std::filesystem;

namespace {

/// One black rectangle that no turn, reversal or scale leaves where it is.
std::string page_with_mark(Rect<SheetSpace> const& page) {
  return test::one_page_pdf("[0 0 " + format_number(page.width(), 2) + " " + format_number(page.height(), 2) + "]", "100.5 200.5 299 399 re f");
}

}  // namespace

TEST_CASE("a job through a queue with a PPD leaves it at its size and in its place") {
  if (geteuid() != 0) {
    WARN("a private CUPS needs root");
    return;
  }
  PrivateCups cups;
  struct Row {
    char const *queue, *ppd;
    double width, length;
    Feed feed;
    char const* more;  // what the queue's defaults would have otherwise
  };
  Row const rows[] = {
      {"narrow", "bench", 8.5, 17, Feed::short_edge, ""},
      {"wide", "bench", 12.5, 19, Feed::short_edge, ""},
      {"across", "bench", 8.5, 11, Feed::long_edge, ""},
      {"margins", "bench-long-edge", 8.5, 17, Feed::short_edge, ""},
      {"heightfirst", "bench-height-first", 8.5, 17, Feed::short_edge, ""},
      {"lying", "bench", 8.5, 17, Feed::short_edge,
       "-o orientation-requested-default=4 -o media-default=A4 -o print-scaling-default=fit -o number-up-default=2 -o mirror-default=true"}};
  for (auto const& row : rows) {
    INFO(row.queue);
    auto target = film_target(row.width, row.length);
    target.sheet.feed = row.feed;
    target.press.ppd = std::string(layright::test::kTestfiles) + "/press/" + row.ppd + ".ppd";
    auto const press = prepare_press(target, std::nullopt, Unit::inch);
    REQUIRE(press);
    cups.add(row.queue, target.press.ppd, row.more);
    auto const page = target.sheet.page();
    auto const file = cups.folder / (std::string(row.queue) + ".pdf");
    std::ofstream(file, std::ios::binary) << page_with_mark(page);
    SendOptions options;
    options.request.file = file.string();
    options.request.job_name = job_name(row.queue, "queue test");
    options.request.options = queue_options(target, press->setup);
    options.wait_seconds = 60;
    auto const end = send_to(cups.address(row.queue), options);
    INFO((end ? end->message : end.error().message));
    REQUIRE(end);
    CHECK(end->state == JobState::completed);
    auto const printed = cups.printed(row.queue);
    CHECK_THAT(printed, Catch::Contains("%%BeginFeature: *CustomPageSize True") && Catch::Contains("*MediaType Transparency") &&
                            Catch::Contains("*InputSlot Multipurpose"));
    auto const box = shell("gs -q -dNOPAUSE -dBATCH -dSAFER -sDEVICE=bbox '" + (cups.folder / (std::string(row.queue) + ".ps")).string() + "'");
    CHECK_THAT(box, Catch::Contains("%%BoundingBox: 100 200 400 600"));
    auto const size =
        shell("gs -q -dNOPAUSE -dBATCH -sDEVICE=bbox -c '/showpage {currentpagedevice /PageSize get {round cvi =print ( ) print} forall} def' -f '" +
              (cups.folder / (std::string(row.queue) + ".ps")).string() + "'");
    CHECK_THAT(size, Catch::Contains(format_number(page.width(), 0) + " " + format_number(page.height(), 0)));
  }
}

TEST_CASE("a job that the queue holds, and one whose queue is stopped, are reported as they are") {
  if (geteuid() != 0) {
    WARN("a private CUPS needs root");
    return;
  }
  PrivateCups cups;
  auto target = film_target(8.5, 17);
  target.press.ppd = std::string(layright::test::kTestfiles) + "/press/bench.ppd";
  auto const press = prepare_press(target, std::nullopt, Unit::inch);
  REQUIRE(press);
  auto const file = cups.folder / "page.pdf";
  std::ofstream(file, std::ios::binary) << page_with_mark(target.sheet.page());
  std::string reported;
  auto const end_of = [&](std::string const& queue) {
    SendOptions options;
    options.request.file = file.string();
    options.request.job_name = job_name(queue, "queue test");
    options.request.options = queue_options(target, press->setup);
    options.wait_seconds = 0.5;
    options.progress = [&](JobStatus const& now, std::vector<std::string> const& troubles) { reported += job_words(now, troubles) + "\n"; };
    auto const end = send_to(cups.address(queue), options);
    REQUIRE(end);
    return *end;
  };
  cups.add("holding", target.press.ppd, "-o job-hold-until-default=indefinite");
  auto const held = end_of("holding");
  CHECK(held.state == JobState::held);
  CHECK_THAT(job_words(held), Catch::Contains("held: it is held until somebody releases it"));
  cups.add("stopped", target.press.ppd);
  shell("CUPS_SERVER=127.0.0.1:" + std::to_string(cups.port) + " cupsdisable stopped");
  auto const waiting = end_of("stopped");
  CHECK(waiting.state != JobState::completed);
  CHECK_THAT(reported, Catch::Contains("it is paused"));
}

TEST_CASE("CUPS' own filters make the same setup from the option lines") {
  auto target = film_target(12.5, 19);
  target.press.ppd = std::string(layright::test::kTestfiles) + "/press/bench.ppd";
  auto const press = prepare_press(target, std::nullopt, Unit::inch);
  REQUIRE(press);
  auto const folder = fs::temp_directory_path() / ("layright-filter-" + std::to_string(getpid()));
  fs::create_directories(folder);
  std::ofstream(folder / "page.pdf", std::ios::binary) << page_with_mark(target.sheet.page());
  std::string options;
  for (auto const& [name, choice] : queue_options(target, press->setup, press->ppd.get())) options += " -o '" + name + "=" + choice + "'";
  shell("(cupsfilter -p '" + target.press.ppd + "' -m application/vnd.cups-postscript" + options + " '" + (folder / "page.pdf").string() +
        "' 2>/dev/null >'" + (folder / "out.ps").string() + "')");
  auto const text = read_file(folder / "out.ps");
  auto const at = text.find("*CustomPageSize True");
  REQUIRE(at != std::string::npos);
  CHECK_THAT(text.substr(at, 60), Catch::Contains("900\n1368\n"));
  CHECK_THAT(shell("gs -q -dNOPAUSE -dBATCH -dSAFER -sDEVICE=bbox '" + (folder / "out.ps").string() + "'"),
             Catch::Contains("%%BoundingBox: 100 200 400 600"));
  fs::remove_all(folder);
}
