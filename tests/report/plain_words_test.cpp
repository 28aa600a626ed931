// What is told with options of the command line, for whoever has buttons.
#include "report/plain_words.h"

#include <catch2/catch.hpp>
#include <tuple>

#include "check/check.h"
#include "report/short_words.h"

using layright::plain_words;

TEST_CASE("options go, and the sentence stays one") {
  auto const [told, plain] = GENERATE(table<std::string, std::string>({
      {"Guide box will print. Delete it, or --accept ink.guide.", "Guide box will print. Delete it."},
      {"It has a password. Ask for it unlocked, or --password-file.", "It has a password. Ask for it unlocked."},
      {"Cannot tell how it reads. Look: --incoming right, or wrong if mirrored.", "Cannot tell how it reads. Look at the letters."},
      {"Art is 2.1 x 19.3 in, live area 8 x 16.5 in. Try --scale shrink, or part it: 2 sheets.",
       "Art is 2.1 x 19.3 in, live area 8 x 16.5 in. Shrink it, or part it: 2 sheets."},
      {"Art is 2.1 x 19.3 in, live area 8 x 16.5 in. Try --scale shrink.", "Art is 2.1 x 19.3 in, live area 8 x 16.5 in. Shrink it."},
      {"No ppi in the picture. Say how wide, for instance --width 3.1in.", "No ppi in the picture. Say how wide, for instance 3.1in."},
      {"Pages differ in size. One job? --pages takes some.", "Pages differ in size. One job? Ask which pages are."},
      {"The file is damaged. Ask for it again, or look and --accept file.damaged.", "The file is damaged. Ask for it again."},
      {"A spot is odd. Look, then --accept colour.spot.", "A spot is odd. Look."},
      {"its owner forbids printing; ask the customer for a file without this restriction, or use --accept file.permission",
       "its owner forbids printing; ask the customer for a file without this restriction"},
      {"the file has a password; give its password with --password-file, or ask for the file without one",
       "the file has a password; ask for the file without one"},
      {"how the page reads is not understood; say so with --incoming right or --incoming wrong", "how the page reads is not understood; look at it"},
      {"the page is blank; leave it out with --pages, or accept it with --accept ink.blank", "the page is blank"},
      {"a frame would print; take it out and save the file, or accept it with --accept ink.guide if it is part of the art",
       "a frame would print; take it out and save the file"},
      {"the art is too large by 2 in; lay it at 66.5% of its own size (--scale 66.5% or --scale shrink)",
       "the art is too large by 2 in; lay it at 66.5% of its own size"},
      {"the page is 8.5 x 11 in; `lay` puts its art on a page of the sheet's size, at the scale that --scale says",
       "the page is 8.5 x 11 in; layright puts its art on a page of the sheet's size"},
      {"lay it at 42.2% of its own size (--scale 42.2%); or part it over 6 sheets (`layright tile`)",
       "lay it at 42.2% of its own size; or part it over 6 sheets"},
      {"page 2 (page 1 of 3.5 in): nothing to say here", "page 2 (page 1 of 3.5 in): nothing to say here"},
      {"", ""},
  }));
  CHECK(plain_words(told) == plain);
}

TEST_CASE("no check's short sentence names an option at the desk") {
  for (auto const& info : layright::all_checks()) {
    layright::Finding finding;
    finding.check = info.id;
    finding.level = layright::Level::hold;
    finding.message = "NAME: it did not arrive whole";
    finding.measured = {{"width_px", 300.0}, {"sheets", 3.0}};
    auto const plain = plain_words(short_words(finding, layright::Unit::inch));
    CAPTURE(info.id, plain);
    CHECK(plain.find("--") == std::string::npos);
    CHECK(plain.find('`') == std::string::npos);
    CHECK(plain.size() > 10);
    CHECK((plain.back() == '.' || plain.back() == '?'));
  }
}
