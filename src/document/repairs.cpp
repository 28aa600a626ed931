#include "document/repairs.h"

#include <array>

namespace layright {
namespace {

struct Kind {
  std::string_view library_says;  // part of the library's message
  std::string_view words;
  bool lost = false, rebuilt = false;
};

// The first that fits counts. What the library says was read off qpdf 11.3's own messages on damaged files.
constexpr std::array<Kind, 22> kKinds{{
    {"treating stream as empty", "a stream could not be read and counts as empty", true},
    {"unable to recover stream", "a stream could not be read", true},
    {"error decoding stream data", "the data of a stream are spoiled or cut short", true},
    {"input stream is complete but output may still be valid", "the data of a stream are cut short", true},
    {"not found in file after regenerating", "an object is missing", true},
    {"error reading object", "an object could not be read", true},
    {"Loop detected", "objects of the file refer to themselves in a circle", true},
    {"loop detected", "objects of the file refer to themselves in a circle", true},
    {"unexpected EOF", "the file ends in the middle of an object", true},
    {"EOF", "the file ends in the middle of an object", true},
    {"ttempting to reconstruct cross-reference table", "the table that says where everything lies was damaged and was made again", false, true},
    {"file is damaged", "the table that says where everything lies was damaged and was made again", false, true},
    {"find startxref", "the end of the file is missing or damaged", false, true},
    {"xref", "the table that says where everything lies has mistakes", false},
    {"PDF header", "the file does not begin as a PDF does", false},
    {"stream length", "the length of a stream was wrong and was found again", false},
    {"recovered stream length", "the length of a stream was wrong and was found again", false},
    {"endstream", "the end of a stream is not where it should be", false},
    {"stream keyword", "the beginning of a stream is malformed", false},
    {"/Type key should be", "an object does not say what kind it is, or says it wrongly", false},
    {"expected endobj", "the end of an object is not where it should be", false},
    {"expected", "an object is malformed and was read as far as it goes", false},
}};

}  // namespace

void Repairs::add_warning(std::string_view message) {
  for (auto const& kind : kKinds) {
    if (message.find(kind.library_says) == std::string_view::npos) continue;
    rebuilt_ = rebuilt_ || kind.rebuilt;
    add(std::string(kind.words), kind.lost);
    return;
  }
  add("an object is not written as the standard asks", false);
}

void Repairs::add(std::string const& words, bool lost) {
  lost_ = lost_ || lost;
  if (counts_[words]++ == 0) order_.push_back(words);
}

std::vector<std::string> Repairs::in_words() const {
  std::vector<std::string> lines;
  for (auto const& words : order_) {
    auto const times = counts_.at(words);
    lines.push_back(times == 1 ? words : words + " (" + std::to_string(times) + " times)");
  }
  return lines;
}

}  // namespace layright
