// What CUPS' ippeveprinter answers with attributes of its own (-a), over the line: media that go together, what lies loaded, a tray that feeds
// the other edge, toner, copies, defaults that would change the page. Sizes in 1/100 mm, by hand.
#include <catch2/catch.hpp>
#include <fstream>

#include "setup/fitted_job.h"
#include "setup/network_press.h"
#include "support/pdf_maker.h"
#include "support/send_to.h"

using namespace layright;

namespace {

using Changes = std::vector<std::pair<std::string, std::string>>;

std::string size(char const* x, char const* y, char const* syntax) {
  return std::string("MEMBER collection media-size {\n MEMBER ") + syntax + " x-dimension " + x + "\n MEMBER " + syntax + " y-dimension " + y +
         "\n}\n";
}
std::string const kAnySize = size("9525-33020", "12700-49530", "rangeOfInteger"), kLetterSize = size("21590", "27940", "integer"),
                  kFilmSize = size("21590", "43180", "integer");
std::string media(char const* source, char const* type) {
  return std::string("MEMBER keyword media-source ") + source + "\nMEMBER keyword media-type " + type + "\n";
}

}  // namespace

TEST_CASE("a size that only another tray takes is refused, and so are copies that nobody counts") {
  // bench.conf's own database and then ours: libcups gives the first of a name.
  TestPrinter printer(
      "", {{"ATTR collection media-col-database {", "ATTR collection media-col-database {\n" + kAnySize + media("main", "stationery") + "},{\n" +
                                                        kLetterSize + media("by-pass-tray", "transparency") + "}\nATTR collection x-was {"}});
  auto asked = network_target();
  asked.copies = 2;
  auto const text = lacking(asked, offer_of(printer));
  INFO(text);
  CHECK_THAT(
      text,
      Catch::Contains(
          "hold press.size: the press does not take 8.5 x 17 in from by-pass-tray as transparency: it takes this size only as main (stationery)") &&
          Catch::Contains("its by-pass-tray takes only by-pass-tray (transparency): 8.5 x 11 in") &&
          Catch::Contains("hold press.copies: the press does not take a number of copies"));
  asked.press.media_source = "main";
  asked.press.media_type = "stationery";
  asked.copies = 1;
  CHECK_THAT(lacking(asked, offer_of(printer)), !Catch::Contains("hold"));
}

TEST_CASE("other media in the tray, the other edge first and toner that is used up hold before a sheet is spent") {
  TestPrinter printer("", {{"short-edge-first", "long-edge-first"},
                           {"", "\nATTR collection media-col-ready {\n" + kLetterSize + media("by-pass-tray", "stationery") + "},{\n" + kFilmSize +
                                    media("main", "transparency") + "}\n" +
                                    "ATTR name marker-names \"Black\",\"Cyan\",\"Magenta\",\"Yellow\"\nATTR integer marker-levels 80,3,-2,0\nATTR "
                                    "integer marker-low-levels 10,10,10,10\n"
                                    "ATTR keyword marker-types toner,toner,toner,toner\n"}});
  auto const text = lacking(network_target(), offer_of(printer));
  INFO(text);
  CHECK_THAT(text, Catch::Contains("hold press.loaded: the press says that there lies in its by-pass-tray something else than 8.5 x 17 in, "
                                   "transparency: by-pass-tray (stationery): 8.5 x 11 in") &&
                       Catch::Contains("hold press.feed: the press says that its tray by-pass-tray takes sheets long edge first") &&
                       Catch::Contains("note press.supply: cyan 3 %") && Catch::Contains("hold press.supply: yellow 0 %") &&
                       !Catch::Contains("magenta") && !Catch::Contains("black"));
}

TEST_CASE("defaults of the printer itself are undone in the job that it gets; what nobody knows holds") {
  TestPrinter printer(
      "",
      {{"print-scaling-default auto", "print-scaling-default fit"},
       {"print-quality-default 4", "print-quality-default 3"},
       {"print-color-mode-default color", "print-color-mode-default monochrome"},
       {"sides-default one-sided", "sides-default two-sided-long-edge"},
       {"",
        "\nATTR enum finishings-supported 3,4,5\nATTR enum finishings-default 4\nATTR enum orientation-requested-supported 3,4,5,6\n"
        "ATTR enum orientation-requested-default 4\nATTR integer number-up-supported 1,2,4\nATTR integer number-up-default 2\n"
        "ATTR keyword job-sheets-supported none,standard\nATTR keyword job-sheets-default standard\nATTR keyword output-order-supported "
        "normal,reverse\n"
        "ATTR keyword output-order-default reverse\nATTR integer x-image-shift-supported 0,100\nATTR integer x-image-shift-default 100\n"
        "ATTR rangeOfInteger copies-supported 1-99\nATTR integer copies-default 3\nATTR keyword feed-orientation-supported "
        "long-edge-first,short-edge-first\n"
        "ATTR keyword feed-orientation-default long-edge-first\nATTR collection cover-front-default {\n MEMBER keyword cover-type no-cover\n}\n"}});
  auto asked = network_target();
  asked.press.print_quality.clear();
  asked.press.print_color_mode.clear();
  auto const offer = offer_of(printer);
  CHECK_THAT(lacking(asked, offer), !Catch::Contains("hold"));
  auto const path = printer.folder() / "lantern.pdf";
  std::ofstream(path, std::ios::binary) << page_for(asked);
  SendOptions options;
  options.request.file = path.string();
  options.request.job_name = job_name("lantern.pdf", "defaults");
  options.request.attributes = fitted_attributes(asked, offer);
  auto const end = send_to(printer.address(), options);
  INFO((end ? "" : end.error().message));
  REQUIRE(end);
  CHECK(end->state == JobState::completed);
  auto const got = printer.asked();
  INFO(got);
  for (char const* line : {"IPP_PRINT_SCALING=none", "IPP_PRINT_QUALITY=normal", "IPP_PRINT_COLOR_MODE=color", "IPP_SIDES=one-sided",
                           "IPP_FINISHINGS=none", "IPP_ORIENTATION_REQUESTED=portrait", "IPP_NUMBER_UP=1\n", "IPP_JOB_SHEETS=none",
                           "IPP_OUTPUT_ORDER=normal", "IPP_X_IMAGE_SHIFT=0\n", "IPP_COPIES=1\n", "IPP_FEED_ORIENTATION=short-edge-first"})
    CHECK_THAT(got, Catch::Contains(line));
}

TEST_CASE("a maker's own default that nobody here knows is a hold until the press's table says the attribute") {
  TestPrinter printer("", {{"",
                            "\nATTR keyword x-emblem-supported off,corner\nATTR keyword x-emblem-default corner\nATTR collection cover-back-default "
                            "{\n MEMBER keyword cover-type print-none\n}\n"
                            "ATTR integer job-priority-supported 100\nATTR keyword number-up-default auto\nATTR integer number-up-supported 2\n"}});
  auto const offer = offer_of(printer);
  auto const text = lacking(network_target(), offer);
  INFO(text);
  CHECK_THAT(text, Catch::Contains("hold press.default: the press has a default of its own, x-emblem corner, and what undoes it is not known here") &&
                       Catch::Contains("cover-back {cover-type=print-none}") && Catch::Contains("number-up auto, that a job cannot undo") &&
                       !Catch::Contains("job-priority") && !Catch::Contains("identify-actions"));
  auto asked = network_target();
  asked.press.options = {{"x-emblem", "off"}, {"number-up", "1"}};
  CHECK_THAT(lacking(asked, offer), !Catch::Contains("x-emblem") && !Catch::Contains("number-up"));
}
