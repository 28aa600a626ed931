// When a file has come to its end, and what a name says of it.
#include "watch/whole_file.h"

#include <fcntl.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <fstream>

#include "support/program.h"
#include "watch/intake_settings.h"

namespace layright {
namespace {

bool ends(test::Folder const& folder, std::string const& bytes) {
  std::ofstream(folder / "f", std::ios::binary | std::ios::trunc) << bytes;
  int const descriptor = open((folder / "f").c_str(), O_RDONLY);
  bool const found = has_pdf_trailer(descriptor, static_cast<off_t>(bytes.size()));
  close(descriptor);
  return found;
}

}  // namespace

TEST_CASE("a PDF ends in its trailer", "[whole]") {
  test::Folder folder;
  std::string const body = "%PDF-1.7\n" + std::string(5000, 'x');
  CHECK(ends(folder, body + "\nstartxref\n12\n%%EOF\n"));
  CHECK(ends(folder, body + "\nstartxref\n12\n%%EOF" + std::string(500, '\0')));
  CHECK_FALSE(ends(folder, body));
  CHECK_FALSE(ends(folder, body + "\nstartxref\n12\n%%EO"));
  CHECK_FALSE(ends(folder, body + "%%EOF"));
  CHECK_FALSE(ends(folder, "no PDF startxref 1 %%EOF"));
  CHECK_FALSE(ends(folder, ""));
  // Linearised: the first trailer comes early, the length tells (ISO 32000-1, Annex F, /L).
  std::string const end = "startxref\n0\n%%EOF\n";
  std::string const linear = "%PDF-1.7\n1 0 obj<</Linearized 1/L 1000/H[1 2]>>endobj\n";
  CHECK(ends(folder, linear + std::string(1000 - linear.size() - end.size(), 'x') + end));
  CHECK_FALSE(ends(folder, linear + std::string(800 - linear.size() - end.size(), 'x') + end));
}

TEST_CASE("somebody who writes is noticed", "[whole]") {
  test::Folder folder;
  std::ofstream writer(folder / "f");
  int const descriptor = open((folder / "f").c_str(), O_RDONLY);
  CHECK(writers_of(descriptor) == Writers::some);
  writer.close();
  CHECK(writers_of(descriptor) == Writers::none);
  close(descriptor);
}

TEST_CASE("names of files that are not whole, and rules", "[whole]") {
  Intake intake;
  IntakeSettings const usual = settings_of(intake);
  for (char const* name : {".x.pdf", ".~lock", "a.part", "A.PART", "b.tmp"}) CHECK(is_partial_name(usual, name));
  for (char const* name : {"a.pdf", "part", "a.part.pdf", "~a"}) CHECK_FALSE(is_partial_name(usual, name));
  intake.settings = {{"partial", "*.loading\n~*"}, {"settle", "3min"}, {"keep-originals", "2d"}, {"tries", "5"}, {"duplicates", "skip"}};
  auto const said = settings_of(intake);
  CHECK(is_partial_name(said, "a.loading"));
  CHECK(is_partial_name(said, "~a"));
  CHECK_FALSE(is_partial_name(said, "a.part"));
  CHECK(said.settle == std::chrono::minutes(3));
  CHECK(said.keep_originals == std::chrono::hours(48));
  CHECK(said.tries == 5);
  CHECK(said.duplicates == Duplicates::skip);
  intake.rules = {{"*-dark*", "dark", 2, {}, {}}, {"*", "film", {}, {}, {}}};
  CHECK(rule_for(intake, "fox-DARK.pdf")->target == "dark");
  CHECK(rule_for(intake, "fox.pdf")->target == "film");
}

}  // namespace layright
