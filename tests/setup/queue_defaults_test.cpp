// Queues of a private CUPS whose defaults are set against a job, or whose driver is another one: what leaves their filters is judged, not what
// we sent.
#include <unistd.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <fstream>
#include <sstream>

#include "setup/approval.h"
#include "setup/press_setup.h"
#include "setup/queue_guards.h"
#include "setup/queue_suits.h"
#include "setup/send.h"
#include "setup/send_request.h"
#include "support/pdf_maker.h"
#include "support/places.h"
#include "support/press_target.h"
#include "support/private_cups.h"
#include "support/program.h"
#include "support/send_to.h"
#include "support/test_printer.h"

using namespace layright;
using layright::test::shell;
namespace fs = std::filesystem;

namespace {

std::string const kBench = std::string(layright::test::kTestfiles) + "/press/bench.ppd";

/// Every default that a queue may have and that changes what leaves its filters, in groups that do not hide each other.
std::vector<std::string> const kAgainst = {
    "-o job-sheets-default=standard -o number-up-default=2 -o page-border-default=double -o page-label-default=LABEL -o mirror-default=true "
    "-o print-scaling-default=fit -o copies-default=3 -o position-default=top-left -o OutputOrder-default=Reverse -o "
    "sides-default=two-sided-long-edge",
    "-o page-ranges-default=5-6 -o orientation-requested-default=4 -o print-color-mode-default=monochrome -o media-default=A4 -o "
    "output-bin-default=straight",
    "-o page-set-default=even -o booklet-default=on -o fit-to-page-default=true -o natural-scaling-default=50 -o print-quality-default=3 -o "
    "scaling-default=50",
    "-o landscape-default=true -o fill-default=true -o page-left-default=90 -o page-top-default=90 -o output-order-default=reverse "
    "-o page-delivery-default=reverse-order-face-up -o ColorModel-default=Gray -o WhiteShare-default=P120 -o cupsPrintQuality-default=Draft -o "
    "Duplex-default=DuplexTumble "
    "-o gamma-default=2000 -o brightness-default=20 -o fitplot-default=true -o crop-to-fit-default=true -o number-up-layout-default=btrl -o "
    "finishings-default=4"};

/// Two pages, each with a mark that no turn, reversal, scale or move leaves where it is.
std::string two_pages() {
  test::PdfMaker pdf;
  pdf.page().media("[0 0 612 1224]").content("1 0.5 0 0 k 100.5 200.5 299 399 re f");
  pdf.page().media("[0 0 612 1224]").content("0 1 0.5 0 k 50.5 700.5 99 99 re f");
  return pdf.bytes();
}

struct Came {
  std::string pictures;  // of every page as a printer would draw it
  std::string features;  // the choices that its driver was given
  bool operator==(Came const&) const = default;
};

/// What came out, by Ghostscript.
Came came(fs::path const& printed) {
  Came result;
  result.pictures = shell("gs -q -dNOPAUSE -dBATCH -dSAFER -sDEVICE=ppmraw -r18 -sOutputFile=- '" + printed.string() + "' | cksum");
  result.features = shell("grep -a '^%%BeginFeature' '" + printed.string() + "' | sort -u");
  return result;
}

Target target_of(PrivateCups const& cups, std::string const& queue) {
  auto target = film_target(8.5, 17);
  target.white = {};
  target.press.ipp = cups.address(queue);
  return target;
}

SendAsked asked_of(Target const& target, std::string const& file) {
  auto const service = connect_press(target.press);
  REQUIRE(service);
  auto const answer = ask_press(**service, "film");
  INFO((answer ? "" : answer.error().message));
  REQUIRE(answer);
  auto const asked = ask_for(target, *answer, file, job_name("two.pdf", "defaults test"), std::nullopt, Unit::inch);
  INFO((asked ? "" : asked.error().message));
  REQUIRE(asked);
  return *asked;
}

std::string holds(std::vector<Finding> const& findings) {
  std::string text;
  for (auto const& f : findings)
    if (f.level == Level::hold) text += f.check + ": " + f.message + "\n";
  return text;
}

SentJob print(Target const& target, SendAsked const& asked) {
  SendOptions options;
  options.request = asked.request;
  options.wait_seconds = 60;
  auto const end = send_to(*press_address(target.press), options);
  INFO((end ? end->message : end.error().message));
  REQUIRE(end);
  return *end;
}

bool can_run() {
  if (geteuid() == 0) return true;
  WARN("a private CUPS needs root");
  return false;
}

}  // namespace

TEST_CASE("no default of a queue reaches the film, by send or by lp with the lines of setup") {
  if (!can_run()) return;
  PrivateCups cups;
  auto const file = (cups.folder / "two.pdf").string();
  std::ofstream(file, std::ios::binary) << two_pages();
  cups.add("film", kBench);
  auto const target = target_of(cups, "film");
  auto const plain = asked_of(target, file);
  CHECK(holds(plain.findings).empty());
  auto const first = print(target, plain);
  CHECK(first.state == JobState::completed);
  CHECK(first.sheets == 2);
  CHECK(sheet_trouble(first, 2, plain.counts_sheets).empty());
  auto const wanted = came(cups.output("film"));
  CHECK_THAT(wanted.features, Catch::Contains("*CustomPageSize True") && Catch::Contains("*ColorModel CMYK"));
  CHECK_THAT(shell("gs -q -dNOPAUSE -dBATCH -dSAFER -sDEVICE=bbox '" + cups.output("film").string() + "'"),
             Catch::Contains("%%BoundingBox: 100 200 400 600") && Catch::Contains("%%BoundingBox: 50 700 150 800"));
  int number = 0;
  for (auto const& against : kAgainst) {
    INFO(against);
    std::string const queue = "against" + std::to_string(++number);
    cups.add(queue, kBench, against);
    auto const its_target = target_of(cups, queue);
    auto const asked = asked_of(its_target, file);
    CHECK(holds(asked.findings).empty());
    auto const end = print(its_target, asked);
    CHECK(end.state == JobState::completed);
    CHECK(end.sheets == 2);
    CHECK(came(cups.output(queue)) == wanted);
    // The same by hand: lp with the lines that setup prints.
    std::ofstream(cups.output(queue), std::ios::binary | std::ios::trunc);
    std::string words = "lp -d " + queue;
    for (auto const& [name, choice] : asked.request.options) words += " -o '" + name + "=" + choice + "'";
    auto const said = cups.command(words + " '" + file + "'; while [ -n \"$(lpstat -o " + queue + ")\" ]; do sleep 0.1; done");
    INFO(said);
    CHECK(came(cups.output(queue)) == wanted);
  }
}

TEST_CASE("a default that no job undoes is a hold that names it") {
  if (!can_run()) return;
  PrivateCups cups;
  cups.add("film", kBench, "-o pdftops-renderer-default=pdftocairo");
  auto target = target_of(cups, "film");
  auto const asked = asked_of(target, "none.pdf");
  auto const service = connect_press(target.press);
  auto const suits = queue_suits(target, ask_press(**service, "film").value(), Unit::inch);
  CHECK_FALSE(suits.suits);
  CHECK_THAT(suits.why, Catch::Contains("pdftops-renderer=pdftocairo"));
  cups.add("raw", "");
  CHECK_THAT(holds(asked_of(target_of(cups, "raw"), "none.pdf").findings), Catch::Contains("press.queue: this queue has no driver"));
  cups.command("lpadmin -p film -c both; cupsenable both; cupsaccept both");
  auto both = target_of(cups, "both");
  both.press.ipp.replace(both.press.ipp.find("/printers/"), 10, "/classes/");
  CHECK_THAT(holds(asked_of(both, "none.pdf").findings), Catch::Contains("press.queue: this is a class of queues"));
  CHECK_THAT(holds(asked.findings),
             Catch::Contains("press.default: ") && Catch::Contains("pdftops-renderer=pdftocairo") && Catch::Contains("-R pdftops-renderer-default"));
}

TEST_CASE("a queue whose driver CUPS made up drops that nothing is scaled, and is held") {
  if (!can_run()) return;
  TestPrinter printer;
  PrivateCups cups;
  cups.command("/usr/lib/cups/driver/driverless " + printer.address() + " >'" + (cups.folder / "made-up.ppd").string() +
               "' 2>/dev/null; lpadmin -p film -E -v " + printer.address() + " -P '" + (cups.folder / "made-up.ppd").string() + "'");
  auto const file = (cups.folder / "two.pdf").string();
  std::ofstream(file, std::ios::binary) << two_pages();
  auto const target = target_of(cups, "film");
  auto const asked = asked_of(target, file);
  CHECK_THAT(holds(asked.findings), Catch::Contains("press.scale: this queue's driver is made up"));
  // Why: what was said outright does not come out of the queue.
  CHECK(std::find(asked.request.options.begin(), asked.request.options.end(), std::pair<std::string, std::string>("print-scaling", "none")) !=
        asked.request.options.end());
  print(target, asked);
  CHECK_THAT(printer.asked(), Catch::Contains("x-dimension=21590 y-dimension=43180") && !Catch::Contains("IPP_PRINT_SCALING=none"));
}

TEST_CASE("the queue's driver is asked for, and another one in the press's table is a hold that names both") {
  if (!can_run()) return;
  PrivateCups cups;
  cups.add("film", kBench);
  auto target = target_of(cups, "film");
  auto const by_queue = asked_of(target, "none.pdf");  // no PPD is named
  CHECK(holds(by_queue.findings).empty());
  CHECK(by_queue.request.options.front() == std::pair<std::string, std::string>("PageSize", "Custom.612x1224"));
  target.press.ppd = kBench;
  CHECK(holds(asked_of(target, "none.pdf").findings).empty());
  // Another model.
  std::string other = test::read_file(kBench);
  for (std::string const name : {"Tannery Row Bench (invented)"}) other.replace(other.find(name), name.size(), "Tannery Row Stool (invented)");
  std::ofstream(cups.folder / "stool.ppd") << other;
  target.press.ppd = (cups.folder / "stool.ppd").string();
  CHECK_THAT(holds(asked_of(target, "none.pdf").findings), Catch::Contains("press.queue: ") && Catch::Contains("\"Tannery Row Bench (invented)\"") &&
                                                               Catch::Contains("\"Tannery Row Stool (invented)\""));
  // The same model with another tray, and with a default that the setup leaves alone.
  std::string trays = test::read_file(kBench);
  for (auto at = trays.find("Multipurpose"); at != std::string::npos; at = trays.find("Multipurpose", at)) trays.replace(at, 12, "Sidetray");
  trays.replace(trays.find("*DefaultWhiteShare: P100"), 24, "*DefaultWhiteShare: P120");
  std::ofstream(cups.folder / "trays.ppd") << trays;
  target.press.ppd = (cups.folder / "trays.ppd").string();
  CHECK_THAT(holds(asked_of(target, "none.pdf").findings), Catch::Contains("InputSlot=Sidetray is not in the queue's") &&
                                                               Catch::Contains("InputSlot=Multipurpose is in the queue's only") &&
                                                               Catch::Contains("its default is WhiteShare=P120, the queue's WhiteShare=P100"));
  // A default that the setup sets itself does not count.
  cups.command("lpadmin -p film -o Resolution=600x1200dpi");
  target.press.ppd = kBench;
  CHECK(holds(asked_of(target, "none.pdf").findings).empty());
}

TEST_CASE("an approval keeps the queue's driver and defaults, not those of a file") {
  if (!can_run()) return;
  PrivateCups cups;
  cups.add("film", kBench);
  Press press = target_of(cups, "film").press;
  press.ppd = kBench;
  auto const configuration = cups.folder / "layright.toml";
  auto const state = press_state(press);
  REQUIRE(state);
  std::ofstream(approval_file(configuration), std::ios::binary) << with_approval(configuration, "bench", *state).value();
  CHECK(changes_since_approval(configuration, "bench", press_state(press).value()).value().empty());
  auto const reported = [&] {
    auto const changes = changes_since_approval(configuration, "bench", press_state(press).value());
    std::string text;
    for (auto const& change : *changes) text += change + "\n";
    return text;
  };
  cups.command("lpadmin -p film -o WhiteLayer=Under");
  CHECK_THAT(reported(), Catch::Contains("WhiteLayer was Off, and is Under") && Catch::Contains("PPD digest was"));
  cups.command("lpadmin -p film -o WhiteLayer=Off -o number-up-default=2");
  CHECK_THAT(reported(), Catch::Contains("number-up-default was 1, and is 2"));
}

TEST_CASE("a queue by its name, and an instance with what lpoptions keeps for it") {
  if (!can_run()) return;
  PrivateCups cups;
  cups.add("film", kBench);
  cups.command("lpoptions -p film/night -o WhiteLayer=Under -o number-up=2");
  std::string const home = std::getenv("HOME") ? std::getenv("HOME") : "/";
  setenv("CUPS_SERVER", cups.server().c_str(), 1);
  setenv("CUPS_SERVERROOT", (cups.folder / "etc").c_str(), 1);
  setenv("HOME", cups.folder.c_str(), 1);
  cups.add("bare", "");
  std::ofstream(cups.folder / "layright.toml")
      << "[sheet.film]\nsize = \"8.5x17in\"\n[press.bare]\nqueue = \"bare\"\n[target.bare]\nsheet = \"film\"\npress = \"bare\"\n[press.bench]\nqueue "
         "= \"film/night\"\nmedia-source = \"by-pass-tray\"\n[press.day]\nqueue = \"film/day\"\n"
         "[target.film]\nsheet = \"film\"\npress = \"bench\"\n[target.day]\nsheet = \"film\"\npress = \"day\"\n";
  auto const setup = test::run({layright::test::kProgram, "setup", "--target", "film", "--as", "ppd"}, cups.folder);
  INFO(setup.err);
  CHECK(setup.status == 0);
  CHECK_THAT(setup.out, Catch::Contains("InputSlot=Multipurpose\n") && Catch::Contains("WhiteLayer=Under\n") && Catch::Contains("number-up=1\n") &&
                            !Catch::Contains("number-up=2"));
  CHECK_THAT(setup.err, Catch::Contains("number-up=2"));
  auto const day = test::run({layright::test::kProgram, "setup", "--target", "day", "--as", "ppd"}, cups.folder);
  CHECK(day.status == 64);
  CHECK_THAT(day.err, Catch::Contains("there is no instance film/day; known here: film/night;"));
  for (char const* form : {"text", "ipp", "postscript"}) {
    auto const bare = test::run({layright::test::kProgram, "setup", "--target", "bare", "--as", form}, cups.folder);
    CHECK(bare.status == 2);
    CHECK_THAT(bare.err, Catch::Contains("hold: this queue has no driver"));
  }
  // layright presses.
  cups.add("narrow", std::string(layright::test::kTestfiles) + "/press/bench-narrow.ppd");
  cups.add("raw", "");
  cups.command("lpadmin -p film -c both; lpadmin -p narrow -c both; cupsenable both; cupsaccept both");
  auto const presses = test::run({layright::test::kProgram, "presses", "--sheet", "12.5x19in"}, cups.folder);
  INFO(presses.out << presses.err);
  CHECK(presses.status == 0);
  CHECK_THAT(presses.out,
             Catch::Contains("film: Tannery Row Bench (invented); idle\n  suits: takes 12.5 x 19 in, short edge first: PageSize=Custom.900x1368") &&
                 Catch::Contains("also as film/night") && Catch::Contains("does not suit: the press cannot take the sheet (12.5 x 19 in") &&
                 Catch::Contains("class of queues") && Catch::Contains("this queue has no driver"));
  for (char const* name : {"CUPS_SERVER", "CUPS_SERVERROOT"}) unsetenv(name);
  setenv("HOME", home.c_str(), 1);
}
