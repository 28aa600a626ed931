#include "check/reading_sentence.h"

#include "check/common.h"

namespace layright {
namespace {

std::string how_known(std::string const& from) {
  if (from == "record") return " (by layright's own record)";
  if (from == "operator") return " (by the operator's word)";
  if (from == "text") return " (by its live text)";
  if (from == "letters") return " (by its letters)";
  return "";
}

/// "the printer" or "the RIP"; empty where nobody reverses after the file.
std::string later_party(ReverseAt at) { return at == ReverseAt::printer ? "the printer" : at == ReverseAt::rip ? "the RIP" : ""; }

/// Which of the two it is: letters that nobody understood, or nothing like letters.
std::string not_known(PageReading const& reading) {
  if (reading.letters == LettersSeen::none) return "nothing on the page looks like letters, so nothing tells how it reads";
  if (reading.letters == LettersSeen::not_looked) return "nothing tells how the page reads";
  bool const beside_text = reading.text_right + reading.text_wrong > 0;
  return std::string(beside_text ? "beside its live text the page has letters" : "the page has letters") +
         " that were not understood, so nothing tells how it reads";
}

std::string how_it_reads(PageReading const& reading) {
  switch (reading.reading) {
    case Reading::mixed:
      return (
          reading.from == "letters" && reading.text_right + reading.text_wrong > 0
              ? std::string("the page's live text and its other letters do not read the same way, so parts of the page read right and parts wrong")
              : std::string("parts of the page read right and parts wrong"));
    case Reading::unknown: return not_known(reading);
    default: break;
  }
  std::string const way(word(reading.reading));
  if (reading.from == "assumed")
    return not_known(reading) + ", it is taken to read " + way + (reading.letters == LettersSeen::none ? " (without-letters)" : " (unknown-reads)");
  return "the page reads " + way + how_known(reading.from);
}

/// What must be set in the printer and the RIP when the file reads as it must.
std::string keep_set(ReverseAt at) {
  if (at == ReverseAt::printer) return "print with the printer's reversal on, and leave the RIP's off";
  if (at == ReverseAt::rip) return "print with the RIP's reversal on, and leave the printer's off";
  return "leave reversal off in the printer and in the RIP";
}

/// Nobody asks how the sheet reads.
std::string sentence_as_is(PageReading const& reading, std::string const& party) {
  std::string const later = party.empty() ? "nobody reverses it later" : party + " will still reverse it";
  std::string const start = how_it_reads(reading) + " and " + later;
  if (reading.reading == Reading::unknown || reading.reading == Reading::mixed) {
    return start + "; the target does not ask how the printed sheet reads, so there is nothing to do";
  }
  Reading const comes_out = party.empty() ? reading.reading : reversed(reading.reading);
  return start + ", so the printed sheet reads " + std::string(word(comes_out)) + "; the target does not ask how it reads, so there is nothing to do";
}

}  // namespace

std::string reading_sentence(PageReading const& reading, Target const& target) {
  std::string const party = later_party(target.reverse_at);
  auto const must = reading_of_file(target);
  if (!must) return sentence_as_is(reading, party);

  std::string const wanted(word(target.reading));
  std::string const start = how_it_reads(reading);
  std::string const later = party.empty() ? "nobody reverses it later" : party + " will still reverse it";
  if (reading.reading == Reading::unknown) {
    return start + " and " + later + ", so whether the printed sheet reads " + wanted +
           ", as it must, is not known: look at it and say --incoming right or --incoming wrong";
  }
  if (reading.reading == Reading::mixed) {
    return start + " and " + later + ", so no reversal makes all of the printed sheet read " + wanted +
           ", as it must: look which way the main part reads and have the art fixed, or say --incoming right or --incoming wrong";
  }
  if (reading.reading == *must) {
    return start + " and " + later + ", so the printed sheet reads " + wanted + ", as it must: the file is right as it is; " +
           keep_set(target.reverse_at);
  }
  std::string const outcome = ", so the printed sheet would read " +
                              std::string(word(reversed(target.reading == WantedReading::right ? Reading::right : Reading::wrong))) +
                              ", but it must read " + wanted + ": ";
  if (party.empty()) return start + " and " + later + outcome + "`lay` reverses it; " + keep_set(target.reverse_at);
  return start + " and " + party + " would reverse it" + outcome + "`lay` reverses the file, then " + keep_set(target.reverse_at) +
         "; or print this file as it is with " + party + "'s reversal turned off";
}

}  // namespace layright
