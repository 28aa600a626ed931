// Sending to CUPS' ippeveprinter on loopback: what it was asked and what it received, refusals, its troubles, and a line that breaks.
#include "setup/send.h"

#include <arpa/inet.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <atomic>
#include <catch2/catch.hpp>
#include <cstring>
#include <fstream>
#include <thread>

#include "setup/approval.h"
#include "setup/fitted_job.h"
#include "setup/network_press.h"
#include "setup/offer_list.h"
#include "setup/ppd_words.h"
#include "setup/state_words.h"
#include "support/pdf_maker.h"
#include "support/places.h"
#include "support/send_to.h"

using namespace layright;
using layright::test::read_file;
namespace fs = std::filesystem;

namespace {

SendOptions options_for(TestPrinter const& printer, Target const& target, std::string const& mark) {
  auto const path = printer.folder() / "lantern.pdf";
  std::ofstream(path, std::ios::binary) << page_for(target);
  SendOptions options;
  options.request.file = path.string();
  options.request.job_name = job_name("lantern.pdf", mark);
  options.request.attributes = fitted_attributes(target, offer_of(printer));
  options.wait_seconds = 30;
  return options;
}

std::string all(std::vector<Finding> const& findings) {
  std::string text;
  for (auto const& f : findings) text += f.check + (f.level == Level::hold ? " hold: " : " note: ") + f.message + "\n";
  return text;
}

/// Passes everything on, but breaks once instead of passing on an answer (after `skip` others): the request has arrived by then.
class BreakingLine {
 public:
  BreakingLine(int to, int skip) : to_(to), skip_(skip) {
    listener_ = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    REQUIRE(bind(listener_, reinterpret_cast<sockaddr*>(&address), sizeof address) == 0);
    socklen_t size = sizeof address;
    getsockname(listener_, reinterpret_cast<sockaddr*>(&address), &size);
    port = ntohs(address.sin_port);
    listen(listener_, 4);
    thread_ = std::thread([this] { run(); });
  }
  ~BreakingLine() {
    stop_ = true;
    thread_.join();
    close(listener_);
  }
  int port = 0;
  std::atomic<int> dropped{0};

 private:
  void run() {
    while (!stop_) {
      pollfd waiting{listener_, POLLIN, 0};
      if (poll(&waiting, 1, 100) <= 0) continue;
      int const client = accept(listener_, nullptr, nullptr);
      int const server = socket(AF_INET, SOCK_STREAM, 0);
      sockaddr_in address{};
      address.sin_family = AF_INET;
      address.sin_port = htons(static_cast<std::uint16_t>(to_));
      address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
      connect(server, reinterpret_cast<sockaddr*>(&address), sizeof address);
      pass(client, server);
      close(client);
      close(server);
    }
  }
  void pass(int client, int server) {
    char buffer[16384];
    while (!stop_) {
      pollfd both[2] = {{client, POLLIN, 0}, {server, POLLIN, 0}};
      if (poll(both, 2, 100) <= 0) continue;
      for (int i = 0; i < 2; ++i) {
        if (!both[i].revents) continue;
        auto const n = read(both[i].fd, buffer, sizeof buffer);
        if (n <= 0) return;
        bool const answer = i == 1 && std::string_view(buffer, static_cast<std::size_t>(n)).find("HTTP/1.1 200") != std::string_view::npos;
        if (answer && dropped == 0 && skip_-- <= 0) {
          ++dropped;
          return;
        }
        if (write(both[1 - i].fd, buffer, static_cast<std::size_t>(n)) != n) return;
      }
    }
  }
  int to_, skip_, listener_ = -1;
  std::atomic<bool> stop_{false};
  std::thread thread_;
};

}  // namespace

TEST_CASE("what was asked arrives, the bytes as they are, and the end is the job's own") {
  TestPrinter printer;
  auto const target = network_target();
  CHECK(all(unsupported_settings(target, offer_of(printer), Unit::inch)) ==
        "press.loaded note: the press does not tell what lies in its by-pass-tray: see that it is 8.5 x 17 in, transparency\n");
  auto const options = options_for(printer, target, "one");
  auto const end = send_to(printer.address(), options);
  REQUIRE(end);
  CHECK(end->state == JobState::completed);
  CHECK(end->id == 1);
  CHECK(printer.received() == read_file(options.request.file));
  CHECK_THAT(printer.asked(), Catch::Contains("media-size={x-dimension=21590 y-dimension=43180}") && Catch::Contains("media-source=by-pass-tray") &&
                                  Catch::Contains("media-type=transparency") && Catch::Contains("media-top-margin=423") &&
                                  Catch::Contains("IPP_PRINT_SCALING=none") && Catch::Contains("IPP_SIDES=one-sided") &&
                                  Catch::Contains("IPP_OUTPUT_BIN=face-up") && Catch::Contains("IPP_PRINT_QUALITY=high") &&
                                  Catch::Contains("IPP_PRINTER_RESOLUTION=1200dpi"));
  CHECK(printer.asked().find("IPP_ORIENTATION_REQUESTED=") == std::string::npos);
}

TEST_CASE("ipptool sends the request that setup --as ipp prints") {
  TestPrinter printer;
  auto target = network_target();
  target.sheet.margins = Margins::all(Length::millimetres(4.23));
  auto const file = printer.folder() / "setup.test", pdf = printer.folder() / "lantern.pdf";
  std::ofstream(file, std::ios::binary) << ipptool_request(target, "lantern", "application/pdf");
  std::ofstream(pdf, std::ios::binary) << page_for(target);
  CHECK(std::system(("ipptool -tf '" + pdf.string() + "' " + printer.address() + " '" + file.string() + "' >/dev/null").c_str()) == 0);
  for (int i = 0; i < 100 && printer.jobs() == 0; ++i) std::this_thread::sleep_for(std::chrono::milliseconds(50));
  CHECK(printer.received() == read_file(pdf));
  CHECK_THAT(printer.asked(), Catch::Contains("media-size={x-dimension=21590 y-dimension=43180}"));
}

TEST_CASE("what the press does not offer is reported with the nearest that it does") {
  TestPrinter printer;
  auto const offer = offer_of(printer);
  auto target = network_target();
  target.sheet.width = Length::inches(14);
  target.sheet.length = Length::inches(22);
  CHECK_THAT(all(unsupported_settings(target, offer, Unit::inch)), Catch::Contains("press.size hold") && Catch::Contains("to 13 x 19.5 in"));
  target = network_target();
  target.press.media_source = "bypass-tray";
  CHECK_THAT(all(unsupported_settings(target, offer, Unit::inch)), Catch::Contains("the nearest that it offers is by-pass-tray"));
  target = network_target();
  target.press.media_type = "film";
  target.press.printer_resolution = "2400dpi";
  target.press.output_bin = "rear";
  CHECK_THAT(all(unsupported_settings(target, offer, Unit::inch)),
             Catch::Contains("press.media hold") && Catch::Contains("press.resolution hold") && Catch::Contains("face-down, face-up"));
  target = network_target();
  target.sheet.feed = Feed::long_edge;
  CHECK_THAT(all(unsupported_settings(target, offer, Unit::inch)), Catch::Contains("press.feed hold") && Catch::Contains("short edge first"));
}

TEST_CASE("the finest resolution is the finest that the press lists") {
  TestPrinter printer;
  auto target = network_target();
  target.press.printer_resolution = "finest";
  Dots found{};
  for (auto const& attribute : fitted_attributes(target, offer_of(printer)))
    if (auto const* dots = std::get_if<IppResolution>(&attribute.value)) found = {dots->across, dots->along};
  CHECK(found.across == 1200);  // bench.conf: 600dpi, 1200dpi
  CHECK(found.along == 1200);
}

TEST_CASE("what the press offers, as a list to pick from") {
  TestPrinter printer;
  auto const list = offer_list(offer_of(printer), Unit::inch);
  INFO(list);
  for (std::string const line : {"size (across the feed x along it): 3.75 x 5 in to 13 x 19.5 in\n",  // all from bench.conf
                                 "tray by-pass-tray: short-edge-first\n", "media-source: main; by-pass-tray\n", "media-left-margin: 0 in; 0.167 in\n",
                                 "print-quality: draft; *normal; high\n", "output-bin: *face-down; face-up\n"})
    CHECK_THAT(list, Catch::Contains(line));
  CHECK_THAT(list, !Catch::Contains("operations") && !Catch::Contains("-supported"));
  CHECK(offer_list({}, Unit::inch).empty());
}

TEST_CASE("a size that the press refuses is refused, whatever was checked before") {
  TestPrinter printer;
  auto target = network_target();
  auto options = options_for(printer, target, "two");
  target.sheet.length = Length::inches(30);
  options.request.attributes = ipp_job_attributes(target);
  auto const end = send_to(printer.address(), options);
  REQUIRE_FALSE(end);
  CHECK(end.error().kind == ErrorKind::hold);
  CHECK(printer.jobs() == 0);
}

TEST_CASE("a job that fails is reported as aborted") {
  TestPrinter printer("fail");
  auto const end = send_to(printer.address(), options_for(printer, network_target(), "three"));
  REQUIRE(end);
  CHECK(end->state == JobState::aborted);
}

TEST_CASE("an empty tray is told in plain words, and the wait goes on") {
  TestPrinter printer("empty");
  auto options = options_for(printer, network_target(), "four");
  std::string reported;
  options.progress = [&](JobStatus const&, std::vector<std::string> const& troubles) {
    for (auto const& trouble : troubles) {
      reported += trouble + "\n";
      printer.refill();
    }
  };
  auto const end = send_to(printer.address(), options);
  REQUIRE(end);
  CHECK(end->state == JobState::completed);
  CHECK_THAT(reported, Catch::Contains("the tray is empty"));
}

TEST_CASE("a job that somebody cancels is reported as cancelled") {
  TestPrinter printer("empty");
  auto options = options_for(printer, network_target(), "five");
  bool asked = false;
  options.progress = [&](JobStatus const& now, std::vector<std::string> const&) {
    if (asked || now.state != JobState::processing) return;
    asked = true;
    auto service = PrintService::connect(printer.address());
    REQUIRE(service);
    CHECK((*service)->cancel(now.id));
    printer.refill();
  };
  auto const end = send_to(printer.address(), options);
  REQUIRE(end);
  CHECK(end->state == JobState::cancelled);
}

TEST_CASE("a line that breaks after the job arrived does not print it twice") {
  TestPrinter printer;
  REQUIRE(send_to(printer.address(), options_for(printer, network_target(), "an earlier job")));
  auto options = options_for(printer, network_target(), "six");
  BreakingLine line(printer.port(), 1);  // the first answers on this line are those of Validate-Job and Print-Job
  std::string const line_address = "ipp://localhost:" + std::to_string(line.port) + "/ipp/print";
  auto const end = send_to(line_address, options);
  INFO((end ? "" : end.error().message));
  CHECK(line.dropped == 1);
  REQUIRE(end);
  CHECK(end->state == JobState::completed);
  CHECK(end->id == 2);
  CHECK(printer.jobs() == 2);
}

TEST_CASE("nobody there, and addresses that are none") {
  SendOptions options;
  options.tries = 1;
  CHECK(send_to("ipp://localhost:" + std::to_string(free_port()) + "/ipp/print", options).error().kind == ErrorKind::try_again);
  for (char const* bad : {"", "http://localhost/", "localhost", "ipp:/x"}) CHECK(PrintService::connect(bad).error().kind == ErrorKind::usage);
}

TEST_CASE("job names") {
  CHECK(job_name("lantern.pdf", "layright 01") == "lantern.pdf [layright 01]");
  auto const name = job_name(std::string(100, 'a') + "\xc3\xa9" + std::string(300, 'b'), "m");
  CHECK(name.size() == 255);  // RFC 8011, 5.1.3
  std::string greek;
  while (greek.size() < 300) greek += "\xce\xbb";
  CHECK(job_name(greek, "mm").size() <= 255);
  CHECK((static_cast<unsigned char>(job_name(greek, "mm")[job_name(greek, "mm").size() - 6]) & 0xC0) != 0xC0);
}

TEST_CASE("states of a press in plain words") {
  CHECK(state_reason_words("media-empty-error") == "the tray is empty");
  CHECK(state_reason_words("cover-open-report") == "a cover is open");
  CHECK(state_reason_words("of-its-own") == "of-its-own");
  JobStatus status{7, JobState::held, {"job-hold-until-specified", "of-its-own"}, "Wait.", {}};
  CHECK(job_words(status) == "job 7: held: it is held until somebody releases it, of-its-own; the press says: Wait.");
  status = {7, JobState::completed, {"job-completed-successfully"}, "", {}};
  CHECK(job_words(status) == "job 7: completed");
  status.reasons = {"processing-to-stop-point"};  // what CUPS leaves on a job that has ended
  CHECK(job_words(status) == "job 7: completed");
  CHECK(job_words(status, {"the tray is empty"}) == "job 7: completed; the tray is empty");
}

TEST_CASE("an approval notices another driver and other defaults") {
  auto const folder = fs::temp_directory_path() / "layright-approval";
  fs::create_directories(folder);
  auto const configuration = folder / "layright.toml";
  std::string const bench = read_file(std::string(layright::test::kTestfiles) + "/press/bench.ppd");
  Press press;
  press.ppd = (folder / "bench.ppd").string();
  std::ofstream(press.ppd, std::ios::binary) << bench;
  auto const before = press_state(press);
  REQUIRE(before);
  std::ofstream(approval_file(configuration), std::ios::binary) << with_approval(configuration, "bench", *before).value();
  CHECK(changes_since_approval(configuration, "bench", *before).value().empty());
  CHECK(changes_since_approval(configuration, "another", *before).value().empty());
  std::string other = bench;
  other.replace(other.find("*DefaultMirrorPrint: False"), 26, "*DefaultMirrorPrint: True");
  std::ofstream(press.ppd, std::ios::binary) << other;
  auto const changes = changes_since_approval(configuration, "bench", press_state(press).value());
  REQUIRE(changes);
  std::string reported;
  for (auto const& change : *changes) reported += change + "\n";
  CHECK_THAT(reported, Catch::Contains("MirrorPrint was False, and is True") && Catch::Contains("PPD digest"));
  fs::remove_all(folder);
}
