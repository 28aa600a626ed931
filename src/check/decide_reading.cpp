#include "check/decide_reading.h"

namespace layright {
namespace {

bool one_way(Reading r) { return r == Reading::right || r == Reading::wrong; }

std::string against(std::string_view what, Reading it, Reading word_of_person) {
  return std::string(what) + " reads " + std::string(word(it)) + ", but --incoming says " + std::string(word(word_of_person));
}

}  // namespace

Reading reading_by(LayRecord const& record) { return record.reversed ? reversed(record.reading) : record.reading; }

PageReading decide_reading(ReadingEvidence const& evidence, Target const& target) {
  PageReading out;
  Reading const by_record = evidence.record ? reading_by(*evidence.record) : Reading::unknown;
  Reading const by_text = evidence.text ? evidence.text->reading : Reading::unknown;
  if (evidence.incoming) {
    out.reading = *evidence.incoming;
    out.from = "operator";
    if (one_way(by_record) && by_record != out.reading)
      out.conflict = against("the page, by the record that layright wrote into it,", by_record, out.reading);
    else if (one_way(by_text) && by_text != out.reading)
      out.conflict = against("the page's live text", by_text, out.reading);
    else if (by_text == Reading::mixed)
      out.conflict = "the page's live text reads both ways, but --incoming says " + std::string(word(out.reading));
    else if (evidence.letters && one_way(evidence.letters->reading) && evidence.letters->reading != out.reading)
      out.conflict = against("the page, by its letters,", evidence.letters->reading, out.reading);
    if (by_text == Reading::mixed || !out.conflict.empty())
      if (evidence.text) out.where = evidence.text->where;
    return out;
  }
  if (by_record != Reading::unknown) {
    out.reading = by_record;
    out.from = "record";
    return out;
  }
  if (by_text != Reading::unknown) {
    out.reading = by_text;
    out.from = "text";
    out.where = evidence.text->where;
    return out;
  }
  if (evidence.letters && evidence.letters->reading != Reading::unknown) return *evidence.letters;
  if (target.unknown_reads != UnknownReads::hold && target.reading != WantedReading::as_is) {
    out.reading = target.unknown_reads == UnknownReads::right ? Reading::right : Reading::wrong;
    out.from = "assumed";
  }
  if (evidence.letters) out.words = evidence.letters->words;
  return out;
}

}  // namespace layright
