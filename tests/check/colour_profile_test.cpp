// colour.profile: damaged profiles, and ones for another number of components (ICC.1:2022, 7.2).
#include "check/art_view.h"
#include "check/icc.h"

using namespace layright;
using namespace layright::test;

namespace {

ArtPage page_with_profile(std::string const& space, int components = 0, std::size_t cut = 0) {
  PdfMaker pdf;
  auto const whole = profile_bytes(space);
  int const n = components ? components : space == "CMYK" ? 4 : 3;
  auto const profile = pdf.stream("/N " + std::to_string(n), cut ? whole.substr(0, cut) : whole);
  pdf.page().use("ColorSpace", "I", "[/ICCBased " + profile.text() + "]").content("0 g 50 50 10 10 re f");
  return ArtPage(pdf);
}

}  // namespace

TEST_CASE("colour.profile knows a sound profile, with its name, from a damaged one") {
  auto const sound = page_with_profile("RGB ");
  CHECK(sound.silent("colour.profile"));
  REQUIRE(sound.structure.profiles.size() == 1);
  CHECK(sound.structure.profiles[0].name == "Wharf proof");
  CHECK(page_with_profile("CMYK").silent("colour.profile"));
  CHECK_THAT(page_with_profile("junk").finding("colour.profile").message, Contains("no color profile"));
  CHECK_THAT(page_with_profile("RGB ", 0, 150).finding("colour.profile").message, Contains("cut short"));
  CHECK_THAT(page_with_profile("CMYK", 3).finding("colour.profile").message, Contains("4 components") && Contains("Wharf proof"));
}
