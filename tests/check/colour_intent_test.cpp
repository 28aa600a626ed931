// colour.intent: output intents that contradict the file (ISO 32000-1, 14.11.5).
#include "check/art_view.h"
#include "check/icc.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_with_intents(std::vector<std::string> const& spaces, std::string const& content) {
  PdfMaker pdf;
  std::string intents;
  for (auto const& space : spaces)
    intents +=
        "<< /Type /OutputIntent /S /GTS_PDFX /OutputConditionIdentifier (Wharf) /DestOutputProfile " + profile_object(pdf, space).text() + " >> ";
  if (!spaces.empty()) pdf.catalog("OutputIntents", "[" + intents + "]");
  pdf.page().content(content + " 50 50 10 10 re f");
  return ArtPage(pdf);
}

}  // namespace

TEST_CASE("colour.intent tells what contradicts itself, and nothing of a file without intents") {
  CHECK(page_with_intents({}, "1 0 0 rg").silent("colour.intent"));
  CHECK(page_with_intents({"CMYK"}, "0 1 0 0 k").silent("colour.intent"));
  CHECK(page_with_intents({"RGB "}, "1 0 0 rg").silent("colour.intent"));
  CHECK(page_with_intents({"CMYK"}, "0 g").silent("colour.intent"));
  CHECK_THAT(page_with_intents({"CMYK"}, "1 0 0 rg").finding("colour.intent").message, Contains("all colors of this page are RGB"));
  CHECK_THAT(page_with_intents({"RGB "}, "0 1 0 0 k").finding("colour.intent").message, Contains("all colors of this page are CMYK"));
  CHECK_THAT(page_with_intents({"RGB ", "CMYK"}, "0 g").finding("colour.intent").message, Contains("different kinds"));
  CHECK_THAT(page_with_intents({"junk"}, "0 g").finding("colour.intent").message, Contains("damaged"));
}
