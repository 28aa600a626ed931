// reading.none and reading.unknown: nothing like letters, and letters that nobody understood (DESIGN sections 6 and 7).
#include "check/reading_test.h"

using namespace layright;
using namespace layright::test;

namespace {

/// What is decided where nothing but `seen` is known, for a target that takes `unknown` and `without` for granted.
PageReading decided(LettersSeen seen, UnknownReads unknown, std::optional<UnknownReads> without, TextReadingResult const& text = {}) {
  Target target;
  target.reading = WantedReading::wrong;
  target.unknown_reads = unknown;
  target.without_letters = without;
  PageReading letters;
  letters.letters = seen;
  ReadingEvidence evidence;
  evidence.text = &text;
  evidence.letters = &letters;
  return decide_reading(evidence, target);
}

TextReadingResult live(Reading reading, double area) {
  TextReadingResult text;
  text.reading = reading;
  (reading == Reading::right ? text.right : text.wrong) = 12;
  text.area = area;
  text.text = {{0, 0, 50, 10}};
  return text;
}

PageReading beside(TextReadingResult const& text, Reading by_letters, LettersSeen seen, double unread = 0) {
  PageReading letters;
  letters.by_letters = by_letters;
  letters.letters = seen;
  letters.letters_unread = unread;
  letters.where = {{100, 100, 200, 120}};
  letters.words = {"Lantern"};
  ReadingEvidence evidence;
  evidence.text = &text;
  evidence.letters = &letters;
  return decide_reading(evidence, {});
}

}  // namespace

TEST_CASE("reading.none is told where nothing looks like letters, reading.unknown where letters were not understood") {
  auto v = reads(Reading::unknown, WantedReading::wrong);
  for (auto const seen : {LettersSeen::not_looked, LettersSeen::not_understood, LettersSeen::none}) {
    v.reading.letters = seen;
    ReadingLine line;
    line.where = {10, 10, 90, 30};
    v.reading.lines = {line};
    CHECK(v.silent("reading.none") == (seen != LettersSeen::none));
    CHECK(v.silent("reading.unknown") == (seen == LettersSeen::none));
  }
  CHECK(v.finding("reading.none").level == Level::hold);
  v.reading.letters = LettersSeen::not_understood;
  CHECK(v.finding("reading.unknown").places == std::vector<Rect<SeenSpace>>{{10, 10, 90, 30}});  // for a person to look at
  v.target.reading = WantedReading::as_is;
  CHECK(v.silent("reading.unknown"));
}

TEST_CASE("what is taken for granted with and without letters is set apart") {
  using enum UnknownReads;
  struct Row {
    LettersSeen seen;
    UnknownReads unknown;
    std::optional<UnknownReads> without;
    Reading expected;
  };
  auto const r = GENERATE(Row{LettersSeen::none, hold, right, Reading::right}, Row{LettersSeen::none, right, hold, Reading::unknown},
                          Row{LettersSeen::none, hold, wrong, Reading::wrong}, Row{LettersSeen::not_understood, hold, right, Reading::unknown},
                          Row{LettersSeen::not_understood, right, hold, Reading::right}, Row{LettersSeen::not_looked, hold, right, Reading::unknown},
                          // A configuration from before there were two: one word for both.
                          Row{LettersSeen::none, right, std::nullopt, Reading::right}, Row{LettersSeen::none, hold, std::nullopt, Reading::unknown},
                          Row{LettersSeen::not_understood, wrong, std::nullopt, Reading::wrong});
  auto const reported = decided(r.seen, r.unknown, r.without);
  CHECK(reported.reading == r.expected);
  CHECK(reported.from == (r.expected == Reading::unknown ? "none" : "assumed"));
}

TEST_CASE("live text that tells nothing, or a layer, are letters all the same") {
  TextReadingResult text;
  auto const member = GENERATE(0, 1, 2);
  if (member == 0) text.symmetric = 3;
  if (member == 1) text.doubted = 3;
  if (member == 2) text.layer_on_picture = true;
  CHECK(decided(LettersSeen::none, UnknownReads::hold, UnknownReads::right, text).letters == LettersSeen::not_understood);
  CHECK(decided(LettersSeen::none, UnknownReads::hold, UnknownReads::right, text).reading == Reading::unknown);
}

TEST_CASE("live text decides for what it covers only") {
  auto const way = GENERATE(Reading::right, Reading::wrong);
  auto const text = live(way, 1000);
  auto const agrees = beside(text, way, LettersSeen::read);
  CHECK(agrees.reading == way);
  CHECK(agrees.from == "text");
  auto const against = beside(text, reversed(way), LettersSeen::read);
  CHECK(against.reading == Reading::mixed);
  CHECK(against.from == "letters");
  CHECK(against.where == std::vector<Rect<SeenSpace>>{{100, 100, 200, 120}, {0, 0, 50, 10}});  // both places
  CHECK(beside(text, Reading::mixed, LettersSeen::read).reading == Reading::mixed);
  CHECK(beside(text, Reading::unknown, LettersSeen::none).reading == way);
  CHECK(beside(text, Reading::unknown, LettersSeen::not_understood, 500).reading == way);  // two thirds of what could be letters are live
  CHECK(beside(text, Reading::unknown, LettersSeen::not_understood, 800).reading == Reading::unknown);
}

TEST_CASE("a layer of invisible text decides nothing") {
  TextReadingResult text;
  text.layer = Reading::right;
  text.layer_on_picture = true;
  CHECK(beside(text, Reading::unknown, LettersSeen::not_understood).reading == Reading::unknown);
  CHECK(beside(text, Reading::wrong, LettersSeen::read).reading == Reading::wrong);
  CHECK(beside(text, Reading::wrong, LettersSeen::read).layer == Reading::right);
}

TEST_CASE("a lone letter of live text that is not trusted leaves what other letters tell unknown") {
  TextReadingResult text;
  for (long const doubted : {0, 1, 2, 40}) {
    CAPTURE(doubted);
    text.doubted = doubted;
    bool const lone = doubted == 1 || doubted == 2;  // worked out by hand: so few are no line that could be read; many are
    CHECK(beside(text, Reading::wrong, LettersSeen::read).reading == (lone ? Reading::unknown : Reading::wrong));
    CHECK(beside(text, Reading::mixed, LettersSeen::read).reading == Reading::mixed);
  }
}

TEST_CASE("a lone letter of live text, however large, decides nothing beside letters that were not understood") {
  auto const way = GENERATE(Reading::right, Reading::wrong);
  for (long const count : {1, 2, 3, 40}) {  // worked out by hand: of two letters no line can be made
    CAPTURE(count);
    auto text = live(way, 1000);
    text.right = way == Reading::right ? count : 0;
    text.wrong = way == Reading::wrong ? count : 0;
    CHECK(beside(text, Reading::unknown, LettersSeen::not_understood, 500).reading == (count <= 2 ? Reading::unknown : way));
    CHECK(beside(text, Reading::unknown, LettersSeen::none).reading == way);
  }
}
