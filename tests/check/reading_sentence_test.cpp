// The one plain sentence, for every case: what the file does now, who will still reverse, what comes out, what to do. The table is worked
// out by hand from DESIGN section 3, rule 5.
#include "check/reading_test.h"

using namespace layright;
using namespace layright::test;

namespace {

using R = Reading;
using W = WantedReading;
using A = ReverseAt;

struct Row {
  R now;
  W wanted;
  A at;
  char const* sentence;
};

std::vector<Row> const kRows{
    {R::right, W::right, A::file,
     "the page reads right (by its live text) and nobody reverses it later, so the printed sheet reads right, as it must: the file is right "
     "as it is; leave reversal off in the printer and in the RIP"},
    {R::wrong, W::right, A::file,
     "the page reads wrong (by its live text) and nobody reverses it later, so the printed sheet would read wrong, but it must read right: "
     "`lay` reverses it; leave reversal off in the printer and in the RIP"},
    {R::right, W::wrong, A::file,
     "the page reads right (by its live text) and nobody reverses it later, so the printed sheet would read right, but it must read wrong: "
     "`lay` reverses it; leave reversal off in the printer and in the RIP"},
    {R::wrong, W::wrong, A::file,
     "the page reads wrong (by its live text) and nobody reverses it later, so the printed sheet reads wrong, as it must: the file is right "
     "as it is; leave reversal off in the printer and in the RIP"},
    {R::right, W::right, A::printer,
     "the page reads right (by its live text) and the printer would reverse it, so the printed sheet would read wrong, but it must read "
     "right: `lay` reverses the file, then print with the printer's reversal on, and leave the RIP's off; or print this file as it is with "
     "the printer's reversal turned off"},
    {R::wrong, W::right, A::printer,
     "the page reads wrong (by its live text) and the printer will still reverse it, so the printed sheet reads right, as it must: the file "
     "is right as it is; print with the printer's reversal on, and leave the RIP's off"},
    {R::right, W::wrong, A::printer,
     "the page reads right (by its live text) and the printer will still reverse it, so the printed sheet reads wrong, as it must: the file "
     "is right as it is; print with the printer's reversal on, and leave the RIP's off"},
    {R::wrong, W::wrong, A::printer,
     "the page reads wrong (by its live text) and the printer would reverse it, so the printed sheet would read right, but it must read "
     "wrong: `lay` reverses the file, then print with the printer's reversal on, and leave the RIP's off; or print this file as it is with "
     "the printer's reversal turned off"},
    {R::right, W::right, A::rip,
     "the page reads right (by its live text) and the RIP would reverse it, so the printed sheet would read wrong, but it must read right: "
     "`lay` reverses the file, then print with the RIP's reversal on, and leave the printer's off; or print this file as it is with the "
     "RIP's reversal turned off"},
    {R::wrong, W::right, A::rip,
     "the page reads wrong (by its live text) and the RIP will still reverse it, so the printed sheet reads right, as it must: the file is "
     "right as it is; print with the RIP's reversal on, and leave the printer's off"},
    {R::right, W::wrong, A::rip,
     "the page reads right (by its live text) and the RIP will still reverse it, so the printed sheet reads wrong, as it must: the file is "
     "right as it is; print with the RIP's reversal on, and leave the printer's off"},
    {R::wrong, W::wrong, A::rip,
     "the page reads wrong (by its live text) and the RIP would reverse it, so the printed sheet would read right, but it must read wrong: "
     "`lay` reverses the file, then print with the RIP's reversal on, and leave the printer's off; or print this file as it is with the "
     "RIP's reversal turned off"},
    {R::right, W::as_is, A::file,
     "the page reads right (by its live text) and nobody reverses it later, so the printed sheet reads right; the target does not ask how it "
     "reads, so there is nothing to do"},
    {R::right, W::as_is, A::printer,
     "the page reads right (by its live text) and the printer will still reverse it, so the printed sheet reads wrong; the target does not "
     "ask how it reads, so there is nothing to do"},
    {R::wrong, W::as_is, A::rip,
     "the page reads wrong (by its live text) and the RIP will still reverse it, so the printed sheet reads right; the target does not ask "
     "how it reads, so there is nothing to do"},
    {R::wrong, W::as_is, A::file,
     "the page reads wrong (by its live text) and nobody reverses it later, so the printed sheet reads wrong; the target does not ask how it "
     "reads, so there is nothing to do"},
    {R::unknown, W::wrong, A::file,
     "nothing tells how the page reads and nobody reverses it later, so whether the printed sheet reads wrong, as it must, is not known: look "
     "at it and say --incoming right or --incoming wrong"},
    {R::unknown, W::right, A::printer,
     "nothing tells how the page reads and the printer will still reverse it, so whether the printed sheet reads right, as it must, is not "
     "known: look at it and say --incoming right or --incoming wrong"},
    {R::unknown, W::wrong, A::rip,
     "nothing tells how the page reads and the RIP will still reverse it, so whether the printed sheet reads wrong, as it must, is not known: "
     "look at it and say --incoming right or --incoming wrong"},
    {R::unknown, W::as_is, A::file,
     "nothing tells how the page reads and nobody reverses it later; the target does not ask how the printed sheet reads, so there is nothing "
     "to do"},
    {R::mixed, W::wrong, A::file,
     "parts of the page read right and parts wrong and nobody reverses it later, so no reversal makes all of the printed sheet read wrong, as "
     "it must: look which way the main part reads and have the art fixed, or say --incoming right or --incoming wrong"},
    {R::mixed, W::right, A::printer,
     "parts of the page read right and parts wrong and the printer will still reverse it, so no reversal makes all of the printed sheet read "
     "right, as it must: look which way the main part reads and have the art fixed, or say --incoming right or --incoming wrong"},
};

}  // namespace

TEST_CASE("the sentence of each case, word for word") {
  for (Row const& row : kRows) {
    auto const v = reads(row.now, row.wanted, row.at);
    CHECK(reading_sentence(v.reading, v.target) == row.sentence);
  }
}

TEST_CASE("every case has one sentence that names what comes out, who reverses and what to do") {
  for (auto const now : {R::right, R::wrong, R::mixed, R::unknown}) {
    for (auto const wanted : {W::right, W::wrong, W::as_is}) {
      for (auto const at : {A::file, A::printer, A::rip}) {
        auto const v = reads(now, wanted, at);
        auto const sentence = reading_sentence(v.reading, v.target);
        CAPTURE(sentence);
        CHECK_THAT(sentence, Contains(at == A::file ? "nobody" : at == A::printer ? "the printer" : "the RIP"));
        CHECK(sentence.back() != '.');
        CHECK(sentence.find(". ") == std::string::npos);
        // Fixed by `lay` exactly where reading.reverse says so.
        CHECK((sentence.find("`lay`") != std::string::npos) == !v.silent("reading.reverse"));
        if (wanted != W::as_is)
          CHECK_THAT(sentence, Contains(std::string(word(wanted)) + ", as it must") || Contains("must read " + std::string(word(wanted))));
      }
    }
  }
}

TEST_CASE("the sentence says how the reading is known, and that it was taken for granted") {
  struct Known {
    char const* from;
    char const* words;
  };
  auto const row = GENERATE(values<Known>({{"record", "record"}, {"operator", "operator's word"}, {"text", "live text"}, {"letters", "letters"}}));
  auto const v = reads(Reading::right, WantedReading::wrong, ReverseAt::file, row.from);
  CHECK_THAT(reading_sentence(v.reading, v.target), Contains(row.words));
  auto const assumed = takes_for_granted(UnknownReads::right, WantedReading::wrong);
  CHECK(reading_sentence(assumed.reading, assumed.target) ==
        "nothing tells how the page reads, it is taken to read right (unknown-reads) and nobody reverses it later, so the printed sheet would "
        "read right, but it must read wrong: `lay` reverses it; leave reversal off in the printer and in the RIP");
}

TEST_CASE("the sentence says whether letters were not understood or nothing looks like any") {
  auto v = reads(Reading::unknown, WantedReading::wrong);
  v.reading.letters = LettersSeen::none;
  CHECK_THAT(reading_sentence(v.reading, v.target), Contains("nothing on the page looks like letters"));
  v.reading.letters = LettersSeen::not_understood;
  CHECK_THAT(reading_sentence(v.reading, v.target), Contains("letters that were not understood") && !Contains("live text"));
  v.reading.text_right = 5;
  CHECK_THAT(reading_sentence(v.reading, v.target), Contains("beside its live text"));
  v.reading.reading = Reading::mixed;
  v.reading.from = "letters";
  CHECK_THAT(reading_sentence(v.reading, v.target), Contains("do not read the same way"));
}
