#include "job/page_reading.h"

#include <utility>

#include "check/decide_reading.h"

namespace layright {
namespace {

/// The page's letters: with its live text, or without where that is reported already.
std::optional<PagePicture> picture_for_letters(Page const& page, Marks const& marks, MarksReader& reader, bool white_prints) {
  bool const reported = marks.text.reading != Reading::unknown && marks.text.doubted == 0;
  return reader.picture_of_letters(page, marks, reported ? LiveText::left_out : LiveText::drawn, white_prints);
}

PageReading decided_by(LettersResult said) {
  PageReading reading;
  reading.by_letters = said.reading;
  reading.words = std::move(said.words);
  reading.where = std::move(said.where);
  reading.letters = said.reading != Reading::unknown ? LettersSeen::read : said.seen ? LettersSeen::not_understood : LettersSeen::none;
  reading.letters_unread = said.unread_area;
  for (LineSaid& line : said.lines)
    if (reading.lines.size() < kMostReadingLines)
      reading.lines.push_back(
          {line.where, std::move(line.words_right), std::move(line.words_wrong), line.doubt_right, line.doubt_wrong, line.evidence});
  return reading;
}

}  // namespace

ReadingFound reading_of_page(Page const& page, Marks const& marks, MarksReader& reader, LetterEngine* letters, Target const& target,
                             ReadingWanted const& wanted) {
  ReadingEvidence evidence;
  evidence.record = page.record && page.record->holds ? &*page.record : nullptr;
  evidence.incoming = wanted.incoming;
  evidence.text = &marks.text;
  auto const cheap = decide_reading(evidence, target);
  bool const by_text = cheap.from == "text";
  bool const open = cheap.from == "none" || cheap.from == "assumed" || (by_text && cheap.reading != Reading::mixed && !marks.text.alone);
  bool const letters_wanted = wanted.look && marks.ink && marks.whole && (wanted.incoming ? wanted.check_letters : open);
  if (!letters_wanted) return {cheap};
  if (!letters && !by_text) return {cheap, true};
  auto const picture = picture_for_letters(page, marks, reader, target.white_prints());
  if (!picture || (by_text && !could_hold_letters(*picture))) return {cheap};
  if (!letters) return {cheap, true};
  auto const by_letters = decided_by(read_letters(*letters, *picture));
  evidence.letters = &by_letters;
  return {decide_reading(evidence, target)};
}

}  // namespace layright
