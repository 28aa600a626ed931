#include "report/reading_picture.h"

#include "base/module.h"
#include "report/proof_module/entry.h"
#include "report/report.h"

namespace layright {
namespace {

std::string words_of(std::vector<std::string> const& words) {
  std::string line;
  for (auto const& word : words) line += (line.empty() ? "" : " ") + word;
  return shown_name(line);
}

}  // namespace

ReadingPicturePage reading_picture_page(PageSummary const& reported, std::string const& file) {
  ReadingPicturePage page;
  page.file = shown_name(file);
  page.number = reported.number;
  page.seen = reported.size.value_or(SeenSize{});
  PageReading const reading = reported.reading.value_or(PageReading{});
  page.reading = word(reading.reading);
  page.decided_by = reading.from;
  page.sentence = shown_name(reported.reading_sentence);
  page.letters = word(reading.letters);
  page.text_right = reading.text_right;
  page.text_wrong = reading.text_wrong;
  if (reading.letters == LettersSeen::not_looked) return page;
  for (auto const& l : reading.lines)
    page.lines.push_back({l.where, words_of(l.words_right), words_of(l.words_wrong), l.doubt_right, l.doubt_wrong, l.evidence});
  return page;
}

Result<std::string> make_reading_picture(ReadingPicture const& picture) {
  auto const found = load_from_module("layright-proof", kReadingPictureEntry);
  if (!found) return found.error();
  std::string text;
  if (reinterpret_cast<ReadingPictureEntry>(*found)(picture, text)) return text;
  return Error{ErrorKind::internal, "the picture of how it reads could not be made: " + text};
}

}  // namespace layright
